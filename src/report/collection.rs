//! What came back to a coach's collection, as one table: text and JSON; who sees what is missed comes first.

use serde::Serialize;

use super::paragraph;
use super::published::{Published, document_json};
use crate::coach::collection::{CollectionTable, Mark, Row, RowOf, StudentRow};
use crate::text::{capital, list, safe, wrap};

const WIDTH: usize = 78;
/// Up to here each student has a letter of his own.
const LETTERS: usize = 26;

/// How a student is called in the narrow columns: A to Z, then 1, 2 and so on, of which the last digit is shown.
fn letter(at: usize) -> String {
    match u8::try_from(at).ok().filter(|_| at < LETTERS) {
        Some(n) => char::from(b'A' + n).to_string(),
        None => (at - LETTERS + 1).to_string(),
    }
}

const fn sign(mark: Mark) -> char {
    match mark {
        Mark::Saw => '+',
        Mark::Part { .. } => '~',
        Mark::Missed => '-',
        Mark::NotReached | Mark::NotFound => '.',
        Mark::NotHandedIn => ' ',
    }
}

/// What the signs mean; the last two stand for the same: nothing can be said of him.
const LEGEND: &str = tr_later!(
    "+ saw it, ~ saw a part of it, - came there and missed it, . his lines do not come there (of a finding: \
                      it was not found in his tree), blank: not handed in."
);

pub(super) const OUTRANKS: &str =
    tr_later!("Findings are the engine's; a coach's judgement outranks them.");

/// 'Verrick, Ansa: 2 of 3 positions, saw 4 of 9 points; not handed in: position 2.'
pub(super) fn of_student(student: &StudentRow, positions: usize) -> String {
    let saw = match student.points {
        0 => String::new(),
        n => tr!(
            ", saw {} of {}",
            student.saw,
            tr!(n; "{} point" | "{} points", crate::text::whole(n))
        ),
    };
    let missing: Vec<String> = student.missing.iter().map(usize::to_string).collect();
    let missing = match missing.len() {
        0 => String::new(),
        1 => tr!("; not handed in: position {}", list(&missing)),
        _ => tr!("; not handed in: positions {}", list(&missing)),
    };
    let again = match student.again {
        0 => String::new(),
        n => {
            tr!(n; "; a second tree to one of them does not count" | "; {n} later trees to the same positions do not count")
        }
    };
    tr!(
        "{}: {} of {}{saw}{missing}{again}.",
        safe(&student.name),
        student.handed_in,
        tr!(positions; "{} position" | "{} positions", crate::text::whole(positions))
    )
}

/// 'Position 1, after 1.c7 Rd6+: 2.Kb5 Rd5+ (+-) 'towards the rook''.
pub(super) fn of_row(row: &Row) -> String {
    let position = tr!("Position {}", row.position);
    let told = match &row.of {
        RowOf::Point(point) => {
            let verdict = match point.verdict.as_str() {
                "" => String::new(),
                sign => format!(" ({sign})"),
            };
            let words = match point.words.as_str() {
                "" => String::new(),
                words => format!(" '{words}'"),
            };
            format!(
                "{position}, {}: {}{verdict}{words}",
                point.place, point.line
            )
        }
        RowOf::Finding {
            label, place, line, ..
        } => format!("{position}, {place}, {label}: {line}"),
    };
    safe(&told).into_owned()
}

/// '1 of 3', of a finding 'missed by 2'.
pub(super) fn counted(row: &Row) -> String {
    match (&row.of, row.came) {
        (RowOf::Finding { .. }, n) => tr!("missed {n}"),
        (RowOf::Point(_), 0) => tr!("none came").to_owned(),
        (RowOf::Point(_), n) => tr!("{} of {n}", row.saw),
    }
}

/// The positions that nobody handed in, in a sentence; `None` where there is none.
pub(super) fn untouched(table: &CollectionTable) -> Option<String> {
    let none = table.positions.iter().filter(|p| p.handed_in == 0);
    let none: Vec<String> = none.map(|p| p.number.to_string()).collect();
    match none.len() {
        0 => None,
        1 => Some(tr!("Nobody handed in position {}.", list(&none))),
        _ => Some(tr!("Nobody handed in positions {}.", list(&none))),
    }
}

pub(super) fn heading(name: &str, table: &CollectionTable) -> String {
    tr!(
        "{}: {}, {}, what most missed first",
        capital(&safe(name)),
        tr!(table.positions.len(); "{} position" | "{} positions", crate::text::whole(table.positions.len())),
        tr!(table.students.len(); "{} student" | "{} students", crate::text::whole(table.students.len()))
    )
}

/// The rows that are shown: those of positions that somebody handed in.
pub(super) fn shown(table: &CollectionTable) -> impl Iterator<Item = &Row> {
    let handed_in = |m: &Mark| *m != Mark::NotHandedIn;
    let rows = table.rows.iter();
    rows.filter(move |r| r.marks.iter().any(handed_in))
}

/// The table as text: a column of one sign for each student.
#[must_use]
pub fn collection_text(name: &str, table: &CollectionTable) -> String {
    let heading = heading(name, table);
    let mut out = paragraph(&heading, "");
    out += &format!("{}\n", "-".repeat(heading.chars().count().min(WIDTH)));
    for (at, student) in table.students.iter().enumerate() {
        let lead = format!("{}  ", letter(at));
        out += &paragraph(&of_student(student, table.positions.len()), &lead);
    }
    let columns: String = (0..table.students.len())
        .map(|at| letter(at).chars().next_back().unwrap_or('?'))
        .collect();
    let marks = columns.chars().count();
    out += &tr!("\n{columns}  saw it\n");
    for row in shown(table) {
        let signs: String = row.marks.iter().map(|m| sign(*m)).collect();
        let head = format!("{signs}  {:<10} ", counted(row));
        let indent = marks + 13;
        for (at, line) in wrap(&of_row(row), WIDTH.saturating_sub(indent).max(30))
            .iter()
            .enumerate()
        {
            let lead = if at == 0 { head.as_str() } else { "" };
            out += &format!("{lead:<indent$}{line}\n");
        }
    }
    out.push('\n');
    if let Some(none) = untouched(table) {
        out += &paragraph(&none, "");
    }
    out += &paragraph(crate::translation::text(LEGEND), "");
    if table.judged {
        out += &paragraph(crate::translation::text(OUTRANKS), "");
    }
    out
}

/// What came back to a coach's collection (`foreply coach table --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    /// What the collection is called: its file, or the attempts it is made of.
    collection: &'a str,
    #[serde(flatten)]
    table: &'a CollectionTable,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-coach-table";
}

/// As JSON.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn collection_json(name: &str, table: &CollectionTable) -> Result<String, serde_json::Error> {
    document_json(&Document {
        collection: name,
        table,
    })
}

/// A mark in words, for a page.
pub(super) fn in_words(mark: Mark, row: &Row) -> String {
    match (mark, &row.of) {
        (Mark::Saw, _) => tr!("saw").to_owned(),
        (Mark::Part { moves }, RowOf::Point(point)) => {
            tr!("{moves} of {}", point.moves.len())
        }
        (Mark::Part { moves }, RowOf::Finding { .. }) => moves.to_string(),
        (Mark::Missed, _) => tr!("missed").to_owned(),
        (Mark::NotReached, _) => tr!("not reached").to_owned(),
        (Mark::NotFound, _) => tr!("not found").to_owned(),
        (Mark::NotHandedIn, _) => "-".to_owned(),
    }
}
