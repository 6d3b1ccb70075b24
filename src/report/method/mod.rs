//! The method: how each figure that the program tells is made, where the formula comes from, what it takes for granted and
//! what would make it wrong.
//!
//! No number in it is typed here: thresholds are the constants that the program counts with, examples are computed by the
//! functions that it uses, and what was measured is read from `measured.json`, which a test writes and holds the figures
//! against (`tests/progress/method.rs`).

mod games;
mod html;
mod judged;
mod measured;
mod progress;

use serde::Serialize;

use super::paragraph;
use super::published::{Published, document_json};
use crate::text::{figures_in, number, share, thousands};

pub use html::method_html;

/// One figure, or a family of them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Figure {
    /// A name for programs; it stays.
    pub code: &'static str,
    pub title: &'static str,
    /// Where it is told.
    pub told: &'static str,
    /// How it is made.
    pub formula: String,
    /// Where that comes from.
    pub source: String,
    /// What it takes for granted.
    pub assumption: String,
    /// What would make it wrong.
    pub wrong: String,
    /// What was measured about it, in sentences; may be none.
    pub measured: Vec<String>,
}

/// A chapter of the page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Chapter {
    pub title: &'static str,
    pub figures: Vec<Figure>,
}

/// All of it.
///
/// # Errors
/// The file of measured numbers is damaged; the one that is built in is not.
pub fn chapters() -> Result<Vec<Chapter>, serde_json::Error> {
    let measured = measured::Measured::built_in()?;
    let of = |title, figures| Chapter { title, figures };
    Ok(vec![
        of(tr!("The judge"), judged::judge(&measured)),
        of(tr!("The review of a tree"), judged::review(&measured)),
        of(tr!("What many attempts say"), progress::figures(&measured)),
        of(tr!("Your own games"), games::figures(&measured)),
    ])
}

fn first() -> String {
    tr!(
        "A coach's judgement outranks every figure here. Expected score runs from 0 (lost) over {} (level) to 1 (won). \
         'Our own choice' means that nobody has measured it to be right.",
        share(0.5, 1)
    )
}

/// The parts of a figure under their headings, in the order in which they are told.
fn parts(of: &Figure) -> Vec<(&'static str, &str)> {
    let mut parts = vec![
        (tr!("Told by"), of.told),
        (tr!("How it is made"), of.formula.as_str()),
        (tr!("Where it comes from"), of.source.as_str()),
        (tr!("What it takes for granted"), of.assumption.as_str()),
        (tr!("What would make it wrong"), of.wrong.as_str()),
    ];
    parts.extend(of.measured.iter().map(|m| (tr!("Measured"), m.as_str())));
    parts
}

/// As text.
///
/// # Errors
/// As [`chapters`].
pub fn method_text() -> Result<String, serde_json::Error> {
    let mut out = paragraph(tr!("How every figure is made"), "");
    out += &format!("{}\n", "=".repeat(24));
    out += &paragraph(&first(), "");
    for chapter in chapters()? {
        out += &format!("\n{}\n{}\n", chapter.title, "-".repeat(chapter.title.len()));
        for figure in &chapter.figures {
            out += &format!("\n{}\n", figure.title);
            for (heading, words) in parts(figure) {
                out += &paragraph(&format!("{heading}: {words}"), "  ");
            }
        }
    }
    Ok(out)
}

/// How every figure is made (`foreply method --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document {
    chapters: Vec<Chapter>,
}

impl Published for Document {
    const FORMAT: &'static str = "foreply-method";
}

/// As JSON.
///
/// # Errors
/// As [`chapters`].
pub fn method_json() -> Result<String, serde_json::Error> {
    document_json(&Document {
        chapters: chapters()?,
    })
}

/// `.10`, `.5`, `1`: an expected score, or a difference of two, without the digits that say nothing.
fn score(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    let text = match text.rsplit_once('.') {
        // Two decimals, as everywhere.
        Some((whole, part)) if part.len() == 1 => format!("{whole}.{part}0"),
        _ => text.to_owned(),
    };
    let bare = text.strip_prefix('0').filter(|part| part.starts_with('.'));
    figures_in(bare.unwrap_or(&text)).into_owned()
}

/// `10 %`.
fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// A small number as a word.
fn count(n: u64) -> String {
    number(usize::try_from(n).unwrap_or(usize::MAX))
}

/// One of so many: 'fifth'.
fn part(of: u64) -> String {
    match of {
        2 => tr!("half").to_owned(),
        3 => tr!("third").to_owned(),
        4 => tr!("quarter").to_owned(),
        5 => tr!("fifth").to_owned(),
        10 => tr!("tenth").to_owned(),
        of => tr!("{of}th"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_says_all_of_it() {
        let chapters = chapters().unwrap();
        let mut codes: Vec<&str> = Vec::new();
        for figure in chapters.iter().flat_map(|c| &c.figures) {
            codes.push(figure.code);
            for (heading, words) in parts(figure) {
                assert!(
                    words.ends_with(['.', ')']),
                    "{}, {heading}: {words}",
                    figure.code
                );
                assert!(words.len() >= 15, "{}, {heading}: {words}", figure.code);
                assert!(!words.contains("  "), "{}: {words}", figure.code);
            }
        }
        let all = codes.len();
        codes.sort_unstable();
        codes.dedup();
        assert_eq!(codes.len(), all, "a code stands for one figure");
        let text = method_text().unwrap();
        assert!(text.lines().all(|l| crate::text::width(l) <= 78), "{text}");
        // Each kind of finding that a review can tell is defined.
        for kind in crate::review::FindingKind::ALL {
            let told = text.to_lowercase();
            let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(told.contains(kind.label()), "{}", kind.label());
        }
    }

    #[test]
    fn numbers_as_they_are_written() {
        assert_eq!(
            [0.1, 0.5, 0.015, 1.0, 0.0, 3.5].map(score),
            [".10", ".50", ".015", "1", "0", "3.50"]
        );
        assert_eq!(
            [999, 1000, 200_000].map(thousands),
            ["999", "1,000", "200,000"]
        );
    }
}
