//! The one file that knows the YAML library.
//!
//! A file is cut into its records first, each of which is read by itself: so one record that cannot be
//! read does not hide what is wrong with the others, and every message has its line.

use std::collections::HashMap;

use serde::de::Error as _;

use super::check::drill;
use super::record::{List, Record, Single, Text};
use super::{Drill, DrillError, Grade};
use crate::board::line;
use crate::text::limits;
use crate::tree::{NodeId, Tree};

/// Largest file in bytes.
pub const FILE_MAX: usize = limits::DRILL_FILE_MAX;
/// Most drills in one file.
const RECORDS_MAX: usize = 1000;
/// Most errors told of one file: more are of no use to anyone.
const ERRORS_MAX: usize = 50;

/// The drills of a text; `name` is the file to name in messages.
///
/// # Errors
/// Everything that is wrong, in the order of lines (the first 50): text that is not YAML, unknown or
/// missing fields, an impossible position, a published move that is not legal, two drills of one name.
pub fn load(text: &str, name: &str) -> Result<Vec<Drill>, Vec<DrillError>> {
    let at = |line, what: String| DrillError {
        file: name.to_owned(),
        line,
        column: 0,
        id: None,
        what,
    };
    if text.len() > FILE_MAX {
        let what = tr!("the file is larger than {} KiB; divide it", FILE_MAX / 1024);
        return Err(vec![at(0, what)]);
    }
    let chunks = cut(text).map_err(|line| {
        let what = tr!("a drill begins with '- ' at the start of a line; this belongs to none");
        vec![at(line, what.to_owned())]
    })?;
    if chunks.len() > RECORDS_MAX {
        let what = tr!("the file holds more than {RECORDS_MAX} drills; divide it");
        return Err(vec![at(0, what)]);
    }
    if chunks.is_empty() {
        return Err(vec![at(0, tr!("the file holds no drill").to_owned())]);
    }
    gather(&chunks, name)
}

/// Reads every record; the drills if nothing is wrong with any.
fn gather(chunks: &[Chunk<'_>], name: &str) -> Result<Vec<Drill>, Vec<DrillError>> {
    let mut drills = Vec::new();
    let mut errors = Vec::new();
    let mut seen: HashMap<String, usize> = HashMap::new();
    for chunk in chunks {
        match chunk.read(name) {
            Ok(found) => {
                let line = chunk.place("id").0;
                match seen.insert(found.id.clone(), line) {
                    Some(first) => errors.push(chunk.error(
                        name,
                        "id",
                        Some(&found.id),
                        tr!("the drill on line {first} has the same id; choose another"),
                    )),
                    None => drills.push(found),
                }
            }
            Err(mut wrong) => errors.append(&mut wrong),
        }
    }
    errors.truncate(ERRORS_MAX);
    if errors.is_empty() {
        Ok(drills)
    } else {
        Err(errors)
    }
}

/// The text of one record.
pub(super) struct Chunk<'a> {
    /// The line of the file it begins on, from 1.
    first: usize,
    text: &'a str,
}

/// Cuts a text at every line that begins with `-`; before the first only comments, blank lines and `---`
/// may stand. No part of a record can begin so: its fields are indented. `Err` is the line that
/// belongs to no record.
fn cut(text: &str) -> Result<Vec<Chunk<'_>>, usize> {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    let mut starts: Vec<(usize, usize)> = Vec::new();
    let mut offset = 0;
    for (number, line) in (1..).zip(text.split_inclusive('\n')) {
        let bare = line.trim_end();
        if bare == "-" || bare.starts_with("- ") {
            starts.push((number, offset));
        } else if starts.is_empty() && !is_filler(bare) {
            return Err(number);
        }
        offset += line.len();
    }
    let ends = starts.iter().skip(1).map(|s| s.1).chain([text.len()]);
    Ok(starts
        .iter()
        .zip(ends)
        .map(|((first, start), end)| Chunk {
            first: *first,
            text: text.get(*start..end).unwrap_or_default(),
        })
        .collect())
}

fn is_filler(line: &str) -> bool {
    line.is_empty() || line == "---" || line.trim_start().starts_with('#')
}

impl Chunk<'_> {
    fn read(&self, name: &str) -> Result<Drill, Vec<DrillError>> {
        let record = match serde_yaml::from_str::<Single>(self.text) {
            Ok(Single(record)) => record,
            Err(e) => return Err(vec![self.unreadable(name, &e)]),
        };
        drill(&record).map_err(|wrong| {
            let id = Some(record.id.0.as_str());
            let error = |(field, what)| self.error(name, field, id, what);
            let mut errors: Vec<DrillError> = wrong.into_iter().map(error).collect();
            errors.sort_by_key(|e| (e.line, e.column));
            errors
        })
    }

    /// What the library says, with the line in the file instead of the line in the record.
    fn unreadable(&self, name: &str, error: &serde_yaml::Error) -> DrillError {
        let (line, column) = error
            .location()
            .map_or((1, 0), |place| (place.line(), place.column()));
        let told = error.to_string();
        // The library names the record's place in its list, which is always the first, and the line in
        // the record.
        let what = told.strip_prefix(".[0]").unwrap_or(&told);
        let what = what.trim_start_matches(['.', ':', ' ']);
        let what = what.split(" at line ").next().unwrap_or(what);
        DrillError {
            file: name.to_owned(),
            line: self.first + line.max(1) - 1,
            column,
            id: self.id_as_written(),
            what: advice(what),
        }
    }

    fn with_grade(&self, grade: Grade) -> String {
        let mut out = String::new();
        for line in self.text.split_inclusive('\n') {
            let name = line.trim_start_matches(['-', ' ']);
            if name.starts_with("grade:") {
                continue;
            }
            out.push_str(line);
            if name.starts_with("minutes:") {
                let end = if line.ends_with("\r\n") { "\r\n" } else { "\n" };
                out += &format!("  grade: {grade}{end}");
            }
        }
        out
    }

    fn id_as_written(&self) -> Option<String> {
        let (_, _, rest) = self.field("id")?;
        let id = rest.split(" #").next()?.trim().trim_matches(['"', '\'']);
        (!id.is_empty() && id.len() <= 100).then(|| id.to_owned())
    }

    pub(super) fn error(
        &self,
        name: &str,
        field: &str,
        id: Option<&str>,
        what: String,
    ) -> DrillError {
        let (line, column) = self.place(field);
        DrillError {
            file: name.to_owned(),
            line,
            column,
            id: id.filter(|id| !id.is_empty()).map(str::to_owned),
            what,
        }
    }

    /// Line and column of a field in the file; of the record where the field is not found.
    fn place(&self, field: &str) -> (usize, usize) {
        self.field(field)
            .map_or((self.first, 1), |(line, column, _)| (line, column))
    }

    /// Line and column of a field's name, and what stands behind it.
    fn field(&self, field: &str) -> Option<(usize, usize, &str)> {
        (self.first..)
            .zip(self.text.lines())
            .find_map(|(number, line)| {
                let name = line.trim_start_matches(['-', ' ']);
                let rest = name.strip_prefix(field)?.strip_prefix(':')?;
                Some((number, line.len() - name.len() + 1, rest))
            })
    }
}

/// The library's words with what to do, where they do not say so.
fn advice(what: &str) -> String {
    let hint = if what.contains("did not find expected") || what.contains("mapping values") {
        tr!("; indent every field of a drill by two blanks, and put texts that hold ': ' in quotes")
    } else if what.contains("more than one document") {
        tr!("; remove the line '---' between the drills")
    } else if what.contains("missing field") {
        tr!("; add it (fields: id, title, fen, task, minutes, source, themes, lines, grade, note)")
    } else {
        ""
    };
    format!("{what}{hint}")
}

/// The text of a file with the grades written into it: behind `minutes`, or in the place of the old grade. All
/// else, comments too, stays as it stands; a drill without an entry in `grades` is left alone.
#[must_use]
pub fn with_grades(text: &str, grades: &HashMap<String, Grade>) -> String {
    let Ok(chunks) = cut(text) else {
        return text.to_owned();
    };
    // The chunks are the end of the text.
    let length = text.len() - chunks.iter().map(|c| c.text.len()).sum::<usize>();
    let head = text.get(..length).unwrap_or_default();
    let graded = chunks.iter().map(|chunk| {
        let grade = chunk.id_as_written().and_then(|id| grades.get(&id));
        grade.map_or(chunk.text.to_owned(), |grade| chunk.with_grade(*grade))
    });
    std::iter::once(head.to_owned()).chain(graded).collect()
}

/// The drills as YAML that [`load`] reads as the same drills.
///
/// # Errors
/// A text of a drill is longer than a file may hold.
pub fn write(drills: &[Drill]) -> Result<String, DrillError> {
    let records: Vec<Record> = drills.iter().map(record).collect();
    let fail = |e: &serde_yaml::Error| DrillError {
        file: "drills".to_owned(),
        line: 0,
        column: 0,
        id: None,
        what: e.to_string(),
    };
    let text = serde_yaml::to_string(&records).map_err(|e| fail(&e))?;
    if text.len() > FILE_MAX {
        return Err(fail(&serde_yaml::Error::custom(tr!(
            "the file would be larger than {} KiB; write fewer drills",
            FILE_MAX / 1024
        ))));
    }
    Ok(text)
}

fn record(drill: &Drill) -> Record {
    let text = |text: &str| Text(text.to_owned());
    Record {
        id: text(&drill.id),
        title: text(&drill.title),
        fen: Text(line::fen(drill.root.position())),
        task: drill.task,
        minutes: drill.minutes,
        source: text(&drill.source),
        themes: List(drill.themes.iter().map(|t| text(t)).collect()),
        lines: List(lines(&drill.solution).iter().map(|l| text(l)).collect()),
        grade: drill.grade,
        known_by: drill.known_by,
        note: drill.note.as_deref().map(text),
    }
}

/// Every line of the tree from the root to its end.
pub(super) fn lines(tree: &Tree) -> Vec<String> {
    let mut lines = Vec::new();
    let mut todo = vec![NodeId::ROOT];
    while let Some(at) = todo.pop() {
        let below: Vec<NodeId> = tree.standing(at).collect();
        if below.is_empty() && at != NodeId::ROOT {
            lines.push(tree.sans(at).join(" "));
        }
        todo.extend(below.into_iter().rev());
    }
    lines
}
