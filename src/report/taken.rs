//! What a coach's file brought, as plain text and as JSON.

use serde::Serialize;

use super::paragraph;
use super::published::{Published, document_json};
use crate::coach::CoachImport;

/// One paragraph of what is new, then the details: `+` a line, `:` words, `!` a conflict, `=` what
/// stays.
#[must_use]
pub fn taken(taken: &CoachImport) -> String {
    let mut out = paragraph(
        &format!("Attempt {}: {}", taken.attempt, summary(taken)),
        "",
    );
    let lines = taken.lines.iter().map(|l| l.join(" "));
    items(&mut out, "  + ", lines);
    items(&mut out, "  $ ", taken.judged.iter().cloned());
    let said = taken
        .said
        .iter()
        .map(|(path, words)| match path.as_slice() {
            [] => words.clone(),
            path => format!("{}: {words}", path.join(" ")),
        });
    items(&mut out, "  : ", said);
    let prefixed = |word: &'static str| move |what: &String| format!("{word} {what}");
    items(
        &mut out,
        "  - ",
        taken.overruled.iter().map(prefixed("struck:")),
    );
    items(
        &mut out,
        "  - ",
        taken.upheld.iter().map(prefixed("stands again:")),
    );
    items(&mut out, "  ! ", taken.conflicts.iter().cloned());
    let kept = taken.kept.iter();
    items(
        &mut out,
        "  = ",
        kept.map(|k| format!("not in the file, stays: {k}")),
    );
    out
}

/// 'Bram Oskarn added 3 lines, overruled 1 finding, set 1 as homework.'
#[must_use]
pub fn summary(taken: &CoachImport) -> String {
    let counts = [
        (taken.lines.len(), "added", "line", "lines"),
        (taken.judged.len(), "set", "verdict", "verdicts"),
        (taken.said.len(), "wrote", "comment", "comments"),
        (taken.overruled.len(), "overruled", "finding", "findings"),
        (taken.upheld.len(), "let stand again", "finding", "findings"),
    ];
    let mut parts: Vec<String> = counts
        .iter()
        .filter(|c| c.0 > 0)
        .map(|(n, did, one, many)| format!("{did} {n} {}", if *n == 1 { one } else { many }))
        .collect();
    match taken.homework.len() {
        0 => {}
        n => parts.push(format!("set {n} as homework")),
    }
    let conflicts = match taken.conflicts.len() {
        0 => String::new(),
        1 => " 1 conflict.".to_owned(),
        n => format!(" {n} conflicts."),
    };
    match parts.is_empty() {
        true => format!("nothing new from {}.{conflicts}", taken.by),
        false => format!("{} {}.{conflicts}", taken.by, parts.join(", ")),
    }
}

/// What coaches' files brought (`foreply coach take --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    attempts: &'a [&'a CoachImport],
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-taken";
}

/// All of them as JSON.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn taken_json(all: &[&CoachImport]) -> Result<String, serde_json::Error> {
    document_json(&Document { attempts: all })
}

fn items(out: &mut String, lead: &str, of: impl Iterator<Item = String>) {
    for text in of {
        out.push_str(&paragraph(&text, lead));
    }
}
