//! How far a translation goes, as text and JSON.

use serde::Serialize;

use super::paragraph;
use super::published::{Published, document_json};
use crate::text::{fit, safe, width};
use crate::translation::{Check, Fault};

/// Columns of an English text that are shown beside its line.
const SHOWN: usize = 64;

/// Counts first, then each line that asks for something.
#[must_use]
pub fn translation_text(of: &Check) -> String {
    let missing = of.missing.len();
    let mut out = paragraph(
        &tr!(
            "{}: {} of {} texts are translated; {}.",
            language(of),
            of.translated,
            of.texts,
            tr!(missing; "{missing} is missing" | "{missing} are missing")
        ),
        "",
    );
    let mut part = |heading: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            out.push_str(&format!("\n{heading}\n"));
            lines
                .iter()
                .for_each(|line| out.push_str(&format!("  {line}\n")));
        }
    };
    let faults = |of: &[Fault]| of.iter().map(|f| short(&f.to_string())).collect();
    part(tr!("Does not fit"), faults(&of.unfit));
    part(
        tr!("Not a text of this program, or no more"),
        faults(&of.unknown),
    );
    let missing = of.missing.iter().map(|m| {
        let text = short(&format!("{:?}", m.english));
        match m.line {
            Some(line) => tr!("line {line}: {text}"),
            None => text,
        }
    });
    part(tr!("Missing"), missing.collect());
    out
}

fn language(of: &Check) -> &str {
    match of.language.as_str() {
        "" => tr!("No language named"),
        language => language,
    }
}

fn short(text: &str) -> String {
    let text = safe(text);
    match width(&text) > SHOWN {
        true => fit(&text, SHOWN),
        false => text.into_owned(),
    }
}

/// How far a translation goes (`foreply translation check --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    /// As the header of the file names it; empty where it does not.
    language: &'a str,
    /// Texts that the program has.
    texts: usize,
    /// Those of them that the file translates.
    translated: usize,
    /// Texts that are shown in English: not translated, or marked as fuzzy.
    missing: Vec<MissingText<'a>>,
    /// Translations for which the file is refused.
    unfit: Vec<Place<'a>>,
    /// Messages whose English text the program does not have, or no more.
    unknown: Vec<Place<'a>>,
}

#[derive(Serialize, schemars::JsonSchema)]
struct MissingText<'a> {
    /// The line of its message, counted from 1; `null` where the file does not have it.
    line: Option<usize>,
    english: &'a str,
}

#[derive(Serialize, schemars::JsonSchema)]
struct Place<'a> {
    /// The line of the message, counted from 1.
    line: usize,
    /// What is wrong, or the English text that is not known.
    text: &'a str,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-translation";
}

/// The same, format `foreply-translation`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn translation_json(of: &Check) -> Result<String, serde_json::Error> {
    document_json(&Document {
        language: &of.language,
        texts: of.texts,
        translated: of.translated,
        missing: of
            .missing
            .iter()
            .map(|m| MissingText {
                line: m.line,
                english: &m.english,
            })
            .collect(),
        unfit: places(&of.unfit),
        unknown: places(&of.unknown),
    })
}

fn places(of: &[Fault]) -> Vec<Place<'_>> {
    let all = of.iter().map(|f| (f.line, f.why.as_str()));
    all.map(|(line, text)| Place { line, text }).collect()
}
