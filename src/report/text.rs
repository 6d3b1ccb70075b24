//! Reviews as plain text, 78 columns.

use super::{Reviewed, Subject};
use crate::board::line;
use crate::review::{
    Credit, Finding, FindingHeading, Review, coverage_words, depth_words, focus_words,
};
use crate::text::{capital, clock, dates_in, safe, whole, wrap};

const COLUMNS: usize = 78;

/// All reviews, one after the other, and one line about the judge at the foot.
#[must_use]
pub fn text(reviews: &[Reviewed]) -> String {
    let mut out: String = reviews.iter().map(text_of_one).collect();
    out.push_str(&text_foot(reviews));
    out
}

/// The line about the judge below all reviews.
#[must_use]
pub fn text_foot(reviews: &[Reviewed]) -> String {
    let last = reviews.last().map(|r| &r.review);
    last.map_or_else(String::new, |review| foot(&review.judge, review.nodes))
}

fn foot(judge: &str, nodes: u64) -> String {
    paragraph(
        &tr!(
            "Judged by {judge}, {} nodes a move. A coach's judgement outranks an engine's number.",
            whole(nodes)
        ),
        "",
    )
}

/// One review, without the line about the judge.
#[must_use]
pub fn text_of_one(reviewed: &Reviewed) -> String {
    let review = &reviewed.review;
    let mut out = text_head(&reviewed.of);
    out.push_str(&text_opening(&review.opening));
    out.push_str(&text_right(&reviewed.of, &review.right));
    out.push_str(&text_after(reviewed, 0));
    out
}

/// All that follows the first `told` of the counted findings.
#[must_use]
pub fn text_after(reviewed: &Reviewed, told: usize) -> String {
    let review = &reviewed.review;
    let mut out = findings(reviewed, told);
    out.push_str(&end_card(reviewed));
    out.push_str(&notes(review));
    if !review.unjudged.is_empty() {
        out.push('\n');
    }
    for unjudged in &review.unjudged {
        out.push_str(&paragraph(
            &tr!(
                "Not judged: {}: {}.",
                way(&reviewed.of, &unjudged.path),
                unjudged.why
            ),
            "",
        ));
    }
    out.push_str(&after(&reviewed.of));
    out.push_str(&tree(reviewed));
    out.push('\n');
    out.push_str(&foot_of_one(review));
    out.push('\n');
    out
}

/// What the player added himself: his second look, and his answers to the review.
fn after(of: &Subject) -> String {
    let mut out = String::new();
    if let [head, seen @ ..] = of.second_look.as_slice() {
        out += &format!("\n{head}\n");
        out.extend(seen.iter().map(|s| paragraph(s, " - ")));
    }
    if !of.circumstances.is_empty() {
        out += tr!("\nThe sitting\n");
        out.extend(of.circumstances.iter().map(|s| paragraph(s, " - ")));
    }
    if !of.answers.is_empty() {
        out += tr!("\nYour answers\n");
        out.extend(of.answers.iter().map(|s| paragraph(s, " - ")));
    }
    out
}

/// His candidates side by side, then the tree move by move with the truth wherever it changes.
fn tree(Reviewed { of, review }: &Reviewed) -> String {
    if of.tree.is_empty() {
        return String::new();
    }
    let mut out = tr!("\nYour candidates, in the order of writing\n").to_owned();
    let candidates = super::moves::candidates(of, review);
    out.extend(candidates.iter().map(|s| paragraph(s, " - ")));
    out += tr!("\nYour tree, the truth in square brackets\n");
    for (indent, words) in super::moves::rows(of, review) {
        let lead = format!("{} - ", "  ".repeat(indent));
        out += &paragraph(&words, &lead);
    }
    out
}

/// What is reviewed.
#[must_use]
pub fn text_head(of: &Subject) -> String {
    let mut out = paragraph(&dates_in(&of.heading), "");
    out.push_str(&"-".repeat(crate::text::width(out.lines().next().unwrap_or_default())));
    out.push_str(&format!("\n{}\n", line::fen(of.tree.root().position())));
    if let Some(choice) = of.choice {
        out.push_str(&tr!("Chosen: {}\n", safe(&of.tree.san(choice))));
    }
    out.push('\n');
    out
}

/// The sentence that the review opens with.
#[must_use]
pub fn text_opening(opening: &str) -> String {
    paragraph(opening, "") + "\n"
}

/// What stands between that and the findings.
#[must_use]
pub fn text_right(of: &Subject, right: &[Credit]) -> String {
    let mut out = String::new();
    for right in right {
        out.push_str(&paragraph(&right.note, ""));
    }
    out.push_str(&coach(of));
    out
}

/// What the coach said and wanted to be seen.
fn coach(of: &Subject) -> String {
    let said: Vec<String> = of.coach.iter().map(|w| w.sentence.clone()).collect();
    let wanted = of.model.as_ref().map(crate::coach::Model::sentences);
    let groups = [
        (tr!("Your coach"), said),
        (
            tr!("What your coach wanted you to see"),
            wanted.unwrap_or_default(),
        ),
    ];
    let mut out = String::new();
    for (title, sentences) in groups.iter().filter(|g| !g.1.is_empty()) {
        out += &format!("\n{title}\n");
        out.extend(sentences.iter().map(|s| paragraph(s, " - ")));
        out.push('\n');
    }
    out
}

/// One counted finding, by its number from 1.
#[must_use]
pub fn text_of_finding(of: &Subject, number: usize, finding: &Finding) -> String {
    let question = tr!("Next time: {}", finding.question);
    let elsewhere = elsewhere(of, finding);
    let elsewhere: String = elsewhere.iter().map(|w| paragraph(w, "   ")).collect();
    format!(
        "\n{number}. {}\n{}{elsewhere}{}",
        heading(of, finding),
        paragraph(&finding.sentence, "   "),
        paragraph(&question, "   ")
    )
}

/// Other ways to the place of a finding, and other places at which the same was overlooked.
pub(super) fn elsewhere(of: &Subject, finding: &Finding) -> Vec<String> {
    let ways = finding.paths.iter().skip(1);
    let ways = ways.map(|p| tr!("The same place comes after {}.", way(of, p)));
    let also = finding.also.iter();
    let also = also.map(|p| match p.as_slice() {
        [] => tr!("The same was overlooked in the position.").to_owned(),
        p => tr!("The same was overlooked after {}.", way(of, p)),
    });
    ways.chain(also).collect()
}

/// The counted findings but for the first `told`, then those that do not count.
fn findings(reviewed: &Reviewed, told: usize) -> String {
    let Reviewed { of, review } = reviewed;
    let counted = review.counted().enumerate().skip(told);
    let mut out: String = counted
        .map(|(number, finding)| text_of_finding(of, number + 1, finding))
        .collect();
    for heading in FindingHeading::ALL {
        let findings = review.findings.iter();
        let under: Vec<&Finding> = findings.filter(|f| f.heading() == Some(heading)).collect();
        if !under.is_empty() {
            out.push_str(&format!("\n{}\n", heading.words()));
        }
        for finding in under {
            out.push_str(&paragraph(&beside(of, finding), " - "));
        }
    }
    out
}

/// A finding that does not count: its sentence, with the whole way there where one move would not tell it.
fn beside(of: &Subject, finding: &Finding) -> String {
    match finding.paths.first() {
        Some(path) if path.len() > 1 => format!("[{}] {}", way(of, path), of.beside(finding)),
        _ => of.beside(finding),
    }
}

/// A way through the tree with the numbers of the game.
fn way(of: &Subject, path: &[String]) -> String {
    line::numbered(of.tree.root().position(), path)
}

fn end_card(Reviewed { of, review }: &Reviewed) -> String {
    let Some(card) = &review.end_card else {
        return String::new();
    };
    let title = tr!("\nThe end of your line, {}\n", safe(&way(of, &card.path)));
    let lines = card.sentences.iter().map(|s| paragraph(s, " - "));
    std::iter::once(title).chain(lines).collect()
}

fn notes(review: &Review) -> String {
    if review.notes.is_empty() {
        return String::new();
    }
    let lines = review.notes.iter().map(|n| paragraph(&n.sentence, " - "));
    std::iter::once(tr!("\nTo note\n").to_owned())
        .chain(lines)
        .collect()
}

fn heading(of: &Subject, finding: &Finding) -> String {
    let title = capital(finding.kind.label());
    match finding.paths.first().map(|p| way(of, p)) {
        Some(path) if !path.is_empty() => tr!("{title}, after {}", safe(&path)),
        _ => title,
    }
}

/// Depth, coverage and focus in words.
pub(super) fn figures(review: &Review) -> String {
    let all = [
        depth_words(&review.depth),
        coverage_words(&review.coverage),
        focus_words(&review.focus),
    ];
    let said: Vec<String> = all.into_iter().filter(|w| !w.is_empty()).collect();
    said.join(" ")
}

fn foot_of_one(review: &Review) -> String {
    let mut text = figures(review);
    if let Some(process) = &review.process {
        text.push_str(&tr!(" Time: {}.", clock(process.spent_ms)));
    }
    paragraph(&text, "")
}

/// Wrapped and safe; the first line starts with `lead`, the others are indented as far.
pub(super) fn paragraph(text: &str, lead: &str) -> String {
    let indent = " ".repeat(crate::text::width(lead));
    let lines = wrap(&safe(text), COLUMNS - indent.len());
    let lines = lines
        .iter()
        .enumerate()
        .map(|(i, l)| format!("{}{l}\n", if i == 0 { lead } else { &indent }));
    lines.collect()
}
