//! Drills from records of other formats: names that are made, and the same checks as for our own.

use super::check;
use super::record::{List, Record, Text};
use super::{Drill, DrillError, Task};
use crate::text;

/// Thinking time in minutes of a drill from a file that does not say it.
const MINUTES: u32 = 8;
/// Longest text in characters that is taken over.
const TEXT_MAX: usize = 400;

/// What another format says of a position.
#[derive(Debug, Default)]
pub(super) struct Found {
    /// Line of the file, from 1.
    pub(super) line: usize,
    pub(super) name: String,
    pub(super) fen: String,
    pub(super) source: String,
    pub(super) lines: Vec<String>,
    pub(super) note: Option<String>,
}

/// The drills, or all that is wrong with any. A name that is used twice gets a number.
pub(super) fn drills(found: Vec<Found>, file: &str) -> Result<Vec<Drill>, Vec<DrillError>> {
    let mut ids: Vec<String> = Vec::new();
    let (mut drills, mut wrong) = (Vec::new(), Vec::new());
    for one in found {
        let id = free(&kebab(&one.name), &ids);
        ids.push(id.clone());
        match check::drill(&record(&one, &id, file)) {
            Ok(drill) => drills.push(drill),
            Err(faults) => wrong.extend(faults.into_iter().map(|(_, what)| DrillError {
                file: file.to_owned(),
                line: one.line,
                column: 0,
                id: Some(id.clone()),
                what,
            })),
        }
    }
    if wrong.is_empty() {
        Ok(drills)
    } else {
        Err(wrong)
    }
}

fn record(found: &Found, id: &str, file: &str) -> Record {
    let clean = |words: &str| {
        let words: String = text::safe(words.trim()).chars().take(TEXT_MAX).collect();
        // What was cut can end with a blank.
        Text(words.trim().to_owned())
    };
    let source = match found.source.trim() {
        "" => Text(format!("{file}, line {}", found.line)),
        source => clean(source),
    };
    let title = match found.name.trim() {
        "" => Text(id.to_owned()),
        name => clean(name),
    };
    let list = found.lines.iter().map(|l| Text(l.clone())).collect();
    Record {
        id: Text(id.to_owned()),
        title,
        fen: Text(found.fen.clone()),
        task: Task::Move,
        minutes: MINUTES,
        source,
        themes: List::default(),
        lines: List(list),
        grade: None,
        known_by: None,
        note: found.note.as_deref().map(clean),
    }
}

/// A name of small letters, digits and single hyphens, at most 60 bytes long.
fn kebab(name: &str) -> String {
    let mut id = String::new();
    for c in name.chars().map(|c| c.to_ascii_lowercase()) {
        if c.is_ascii_alphanumeric() {
            id.push(c);
        } else if !id.is_empty() && !id.ends_with('-') {
            id.push('-');
        }
        if id.len() >= 60 {
            break;
        }
    }
    let id = id.trim_end_matches('-');
    if id.is_empty() {
        "position".to_owned()
    } else if id.bytes().all(|b| b.is_ascii_digit()) {
        // A number alone is the place of a drill in the collection.
        format!("position-{id}")
    } else {
        id.to_owned()
    }
}

fn free(id: &str, taken: &[String]) -> String {
    if !taken.iter().any(|t| t == id) {
        return id.to_owned();
    }
    // Among so many numbers one is free.
    (2..=taken.len() + 2)
        .map(|n| format!("{id}-{n}"))
        .find(|id| !taken.contains(id))
        .unwrap_or_default()
}
