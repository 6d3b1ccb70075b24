//! The review told as lines of text, in the order in which the screens stop at it.

use std::io::Write;

use crate::attempt::Attempt;
use crate::attempt::shown_cause;
use crate::review::{Finding, Review, coverage_words, depth_words, focus_words};
use crate::text;
use crate::tree::NodeId;
use crate::tui::TuiError;
use crate::tui::console::io::{WIDTH, say};
use crate::tui::forms::review_words::{
    besides, candidates, coach_words, heading, judged_by, on_asking, position, process, read_of,
    truth, unjudged,
};

pub(super) fn wrapped(words: &str) -> String {
    text::wrap(words, WIDTH).join("\n")
}

fn tell_all<T: AsRef<str>>(
    words: impl IntoIterator<Item = T>,
    out: &mut dyn Write,
) -> Result<(), TuiError> {
    let mut words = words.into_iter();
    words.try_for_each(|w| say(out, &wrapped(w.as_ref())))
}

/// The review: its opening, what held, what the coach said, then each finding with the two lines, and what
/// else there is.
pub(super) fn review(
    review: &Review,
    attempt: &Attempt,
    out: &mut dyn Write,
) -> Result<(), TuiError> {
    say(out, &wrapped(&review.opening))?;
    for right in &review.right {
        say(out, &wrapped(&tr!("What held: {}", right.note)))?;
    }
    say(out, &wrapped(&depth_words(&review.depth)))?;
    for word in coach_words(attempt) {
        say(out, &wrapped(&tr!("Your coach: {}", word.sentence)))?;
    }
    for (i, one) in review.findings.iter().enumerate() {
        finding(&(i + 1).to_string(), one, out)?;
    }
    let card = review.end_card.iter().flat_map(|card| &card.sentences);
    tell_all(
        card.chain(review.notes.iter().map(|note| &note.sentence)),
        out,
    )?;
    tell_all(review.unjudged.iter().map(unjudged), out)?;
    tell_all(attempt.after().second_look(), out)?;
    tell_all(attempt.after().answers(), out)
}

/// One finding with its two lines.
pub(super) fn finding(
    number: &str,
    finding: &Finding,
    out: &mut dyn Write,
) -> Result<(), TuiError> {
    say(out, &format!("{number}. {}", heading(finding)))?;
    say(out, &wrapped(&finding.sentence))?;
    let path = finding.paths.first().cloned().unwrap_or_default();
    for (name, moves) in [
        (tr!("You"), &finding.instead),
        (tr!("The truth"), &finding.proof),
    ] {
        let moves = [path.as_slice(), moves].concat().join(" ");
        say(out, &wrapped(&format!("{name}: {moves}")))?;
    }
    tell_all(besides(finding), out)?;
    say(out, &wrapped(&finding.question))
}

/// His candidates in the order of writing, one line each.
pub(super) fn side_by_side(
    review: &Review,
    attempt: &Attempt,
    out: &mut dyn Write,
) -> Result<(), TuiError> {
    say(out, tr!("Your candidates, in the order of writing:"))?;
    for (i, row) in candidates(review, attempt).iter().enumerate() {
        let chosen = if row.chosen { tr!(", your choice") } else { "" };
        let spent = row.spent_ms.map(text::clock);
        let spent = spent.map_or(String::new(), |spent| tr!(" {spent} spent."));
        let said = match row.said.as_str() {
            "" => tr!(" No verdict of yours.").to_owned(),
            said => tr!(" Your verdict: {said}."),
        };
        let words = tr!(
            "{}. {}{chosen}.{spent}{said} The truth: {}.",
            i + 1,
            row.san,
            row.truth
        );
        say(out, &wrapped(&words))?;
    }
    Ok(())
}

/// Every written move with his verdict, the truth, and what was missed there.
pub(super) fn tree(
    review: &Review,
    attempt: &Attempt,
    out: &mut dyn Write,
) -> Result<(), TuiError> {
    missed(review, NodeId::ROOT, tr!("In the position"), out)?;
    let tree = attempt.tree();
    let start = attempt.started_ms().unwrap_or(0);
    for (id, node) in tree.nodes() {
        let way = tree.sans(id).join(" ");
        let chosen = if attempt.choice() == Some(id) {
            tr!(" (your choice)")
        } else {
            ""
        };
        let at = text::clock(node.at_ms.saturating_sub(start));
        let said = read_of(review, id).and_then(|read| read.said.clone());
        let said = said.map_or(String::new(), |said| tr!(" Your verdict: {said}."));
        let beside = beside(attempt, id);
        let truth = truth(review, tree, id);
        let words = tr!("{way}{chosen}, at {at}.{said}{beside} The truth: {truth}.");
        say(out, &wrapped(&words))?;
        missed(review, id, tr!("Missed here"), out)?;
    }
    Ok(())
}

/// What he set on a move beside its verdict.
fn beside(attempt: &Attempt, id: NodeId) -> String {
    let tree = attempt.tree();
    let Some(node) = tree.node(id) else {
        return String::new();
    };
    let mut words = String::new();
    if !node.comment.is_empty() {
        words += &tr!(" Your words: {}.", node.comment);
    }
    if node.only {
        words += tr!(" Only named.");
    }
    if let Some(other) = node.same_as {
        words += &tr!(" The same as {}.", tree.sans(other).join(" "));
    }
    words
}

fn missed(review: &Review, at: NodeId, lead: &str, out: &mut dyn Write) -> Result<(), TuiError> {
    let here = review
        .findings
        .iter()
        .enumerate()
        .filter(|(_, f)| f.at == at);
    for (i, finding) in here {
        let words = tr!("  {lead}, finding {}: {}.", i + 1, heading(finding));
        say(out, &wrapped(&words))?;
    }
    Ok(())
}

/// The figures in words, with the time of each candidate.
pub(super) fn figures(review: &Review, out: &mut dyn Write) -> Result<(), TuiError> {
    let longest = tr!("Your longest line has {} half-moves.", review.depth.longest);
    let all = [
        depth_words(&review.depth),
        coverage_words(&review.coverage),
        focus_words(&review.focus),
        longest,
    ];
    tell_all(all.iter().filter(|w| !w.is_empty()), out)?;
    tell_all(review.process.iter().flat_map(process), out)?;
    for (san, ms) in review.process.iter().flat_map(|p| &p.per_candidate) {
        say(out, &format!("{san}: {}", text::clock(*ms)))?;
    }
    Ok(())
}

/// Expected scores and what they rest on, only where they are asked for.
pub(super) fn numbers(review: &Review, out: &mut dyn Write) -> Result<(), TuiError> {
    tell_all([judged_by(review), position(review)], out)?;
    for (i, finding) in review.findings.iter().enumerate() {
        say(out, &wrapped(&format!("{}. {}", i + 1, on_asking(finding))))?;
    }
    for read in &review.moves {
        if let Some(worth) = read.worth {
            say(out, &wrapped(&format!("{}: {worth}", read.path.join(" "))))?;
        }
    }
    Ok(())
}

/// What he has answered to a finding.
pub(super) fn answered(
    finding: &Finding,
    attempt: &Attempt,
    out: &mut dyn Write,
) -> Result<(), TuiError> {
    let spot = crate::tui::forms::finding_spot::spot(finding);
    let after = attempt.after();
    let why = after.explained().get(&spot).map(|e| match e.text.as_str() {
        "" => tr!("You: {}.", shown_cause(&e.cause)),
        text => tr!("You: {}; {text}.", shown_cause(&e.cause)),
    });
    let note = after.remarks().get(&spot).map(|r| tr!("Your note: {r}"));
    let struck = after.contested().contains(&spot);
    let struck = struck.then(|| tr!("You do not let it stand before your coach.").to_owned());
    tell_all(why.into_iter().chain(note).chain(struck), out)
}
