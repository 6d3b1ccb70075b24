//! Reviews as plain text, 78 columns.

use super::{Reviewed, Subject};
use crate::board::line;
use crate::review::{Credit, Finding, FindingStatus, Review};
use crate::text::{capital, clock, safe, wrap};

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
        &format!(
            "Judged by {judge}, {nodes} nodes a move. A coach's judgement outranks an engine's number."
        ),
        "",
    )
}

/// One review, without the line about the judge.
#[must_use]
pub fn text_of_one(reviewed: &Reviewed) -> String {
    let review = &reviewed.review;
    let mut out = text_before(&reviewed.of, &review.right);
    out.push_str(&findings(review));
    out.push_str(&end_card(review));
    out.push_str(&notes(review));
    if !review.unjudged.is_empty() {
        out.push('\n');
    }
    for unjudged in &review.unjudged {
        out.push_str(&paragraph(
            &format!("Not judged: {}: {}.", unjudged.path.join(" "), unjudged.why),
            "",
        ));
    }
    out.push('\n');
    out.push_str(&foot_of_one(review));
    out.push('\n');
    out
}

/// All that stands before the findings.
#[must_use]
pub fn text_before(of: &Subject, right: &[Credit]) -> String {
    let mut out = paragraph(&of.heading, "");
    out.push_str(&"-".repeat(crate::text::width(out.lines().next().unwrap_or_default())));
    out.push_str(&format!("\n{}\n", line::fen(of.tree.root().position())));
    if let Some(choice) = of.choice {
        out.push_str(&format!("Chosen: {}\n", safe(&of.tree.san(choice))));
    }
    out.push('\n');
    for right in right {
        out.push_str(&paragraph(&right.note, ""));
    }
    out.push_str(&coach(of));
    out
}

/// What the coach said and wanted to be seen.
fn coach(of: &Subject) -> String {
    let wanted = of.model.as_ref().map(crate::coach::Model::sentences);
    let groups = [
        ("Your coach", of.coach.clone()),
        (
            "What your coach wanted you to see",
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
pub fn text_of_finding(number: usize, finding: &Finding) -> String {
    let question = format!("Next time: {}", finding.question);
    format!(
        "\n{number}. {}\n{}{}",
        heading(finding),
        paragraph(&finding.sentence, "   "),
        paragraph(&question, "   ")
    )
}

fn findings(review: &Review) -> String {
    let mut out = String::new();
    if review.is_clean() {
        let words = match review.findings.is_empty() {
            true => "Your tree holds.\n",
            false => "Your tree holds in what counts.\n",
        };
        out.push_str(words);
    }
    for (number, finding) in review.counted().enumerate() {
        out.push_str(&text_of_finding(number + 1, finding));
    }
    for (class, title) in [
        (FindingStatus::Close, "Close, not counted"),
        (FindingStatus::Aside, "Beside your choice, not counted"),
        (FindingStatus::Withheld, "Held back, not counted"),
        (
            FindingStatus::Overruled,
            "Struck by your coach, not counted",
        ),
    ] {
        let of_class: Vec<&Finding> = review
            .findings
            .iter()
            .filter(|f| f.class == class)
            .collect();
        if !of_class.is_empty() {
            out.push_str(&format!("\n{title}\n"));
        }
        for finding in of_class {
            out.push_str(&paragraph(&beside(finding), " - "));
        }
    }
    out
}

/// A finding that does not count: its sentence, with the whole way there where one move would not tell it.
fn beside(finding: &Finding) -> String {
    match finding.paths.first() {
        Some(path) if path.len() > 1 => format!("[{}] {}", path.join(" "), finding.sentence),
        _ => finding.sentence.clone(),
    }
}

fn end_card(review: &Review) -> String {
    let Some(card) = &review.end_card else {
        return String::new();
    };
    let title = format!("\nThe end of your line, {}\n", safe(&card.path.join(" ")));
    let lines = card.sentences.iter().map(|s| paragraph(s, " - "));
    std::iter::once(title).chain(lines).collect()
}

fn notes(review: &Review) -> String {
    if review.notes.is_empty() {
        return String::new();
    }
    let lines = review.notes.iter().map(|n| paragraph(&n.sentence, " - "));
    std::iter::once("\nTo note\n".to_owned())
        .chain(lines)
        .collect()
}

fn heading(finding: &Finding) -> String {
    let title = capital(finding.kind.label());
    match finding.paths.first().map(|p| p.join(" ")) {
        Some(path) if !path.is_empty() => format!("{title}, after {}", safe(&path)),
        _ => title,
    }
}

/// Depth, coverage and focus in words.
pub(super) fn figures(review: &Review) -> String {
    let (depth, coverage, focus) = (review.depth, review.coverage, review.focus);
    let mut words = format!(
        "Half-moves: {} needed, {} reached, {} sound.",
        depth.needed, depth.reached, depth.sound
    );
    words += &match (coverage.written, coverage.of) {
        (_, 0) => String::new(),
        (0, 1) => " Not written: the one move that a sound calculation contains.".to_owned(),
        (_, 1) => " Written: the one move that a sound calculation contains.".to_owned(),
        (written, of) => {
            format!(" Written: {written} of the {of} moves that a sound calculation contains.")
        }
    };
    words += &match (focus.written, focus.of) {
        (_, 0) => String::new(),
        (0, 1) => " The one written move does not matter.".to_owned(),
        (_, 1) => " The one written move matters.".to_owned(),
        (1, of) => format!(" Of {of} written moves 1 matters."),
        (written, of) => format!(" Of {of} written moves {written} matter."),
    };
    words
}

fn foot_of_one(review: &Review) -> String {
    let mut text = figures(review);
    if let Some(process) = &review.process {
        text.push_str(&format!(" Time: {}.", clock(process.spent_ms)));
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
