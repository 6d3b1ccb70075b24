//! Extended Position Description, in and out.
//!
//! EPD is section 16.2 of the PGN standard (S. J. Edwards, 1994): four fields of a FEN, then operations,
//! each an opcode with its operands and a semicolon; operands with blanks stand in double quotes.
//!
//! Read are `bm` (best moves: each a published line), `pv` (the line that goes on from one of them), `am`
//! (moves to avoid: named in the note), `id` (the name) and `c0` (the source); other operations are passed
//! over. Move counters of a whole FEN are taken too, and `hmvc` and `fmvn`. Written are `bm`, `pv`, `id` and `c0`:
//! EPD has no place for task, time, themes and further lines.

use super::made::{self, Found};
use super::{Drill, DrillError, grade};
use crate::board::{PositionKey, line};
use crate::tree::NodeId;

/// The drills of an EPD text; blank lines and lines that begin with `#` are passed over.
///
/// # Errors
/// All that is wrong, with its line: too few fields, an impossible position, a move that is not legal.
pub(super) fn load(text: &str, file: &str) -> Result<Vec<Drill>, Vec<DrillError>> {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    let (mut found, mut wrong) = (Vec::new(), Vec::new());
    for (number, row) in (1..).zip(text.lines()) {
        let row = row.trim();
        if row.is_empty() || row.starts_with('#') {
            continue;
        }
        match read(row) {
            Ok(one) => found.push(Found {
                line: number,
                ..one
            }),
            Err(what) => wrong.push(error(file, number, what)),
        }
    }
    if found.is_empty() && wrong.is_empty() {
        wrong.push(error(file, 0, tr!("the file holds no position").to_owned()));
    }
    match made::drills(found, file) {
        Ok(drills) if wrong.is_empty() => Ok(drills),
        Ok(_) => Err(wrong),
        Err(more) => {
            wrong.extend(more);
            wrong.sort_by_key(|e| e.line);
            Err(wrong)
        }
    }
}

fn error(file: &str, line: usize, what: String) -> DrillError {
    DrillError {
        file: file.to_owned(),
        line,
        column: 0,
        id: None,
        what,
    }
}

fn read(row: &str) -> Result<Found, String> {
    let mut rest = row;
    let mut fields = Vec::new();
    while fields.len() < 4 {
        let (field, after) = rest.split_once(char::is_whitespace).unwrap_or((rest, ""));
        if field.is_empty() {
            let what =
                tr!("a position of EPD has four fields: men, side to move, castling, en passant");
            return Err(what.to_owned());
        }
        fields.push(field);
        rest = after.trim_start();
    }
    let (half, full, rest) = counters(rest);
    let operations = operations(rest)?;
    let of = |code: &str| -> Vec<String> {
        let named = operations.iter().filter(|(name, _)| name == code);
        named.flat_map(|(_, operands)| operands.clone()).collect()
    };
    let first = |code, or: String| of(code).into_iter().next().unwrap_or(or);
    let (half, full) = (first("hmvc", half), first("fmvn", full));
    let mut lines = of("bm");
    let line = of("pv").join(" ");
    if !line.is_empty() {
        // The line says more than its first move alone.
        let first = line.split(' ').next().unwrap_or_default();
        lines.retain(|mv| mv != first);
        lines.insert(0, line.clone());
    }
    let avoid = of("am").join(", ");
    Ok(Found {
        fen: format!("{} {half} {full}", fields.join(" ")),
        name: first("id", String::new()),
        source: first("c0", String::new()),
        lines,
        note: (!avoid.is_empty()).then(|| format!("Published as moves to avoid: {avoid}.")),
        ..Found::default()
    })
}

/// The counters of a whole FEN, where they follow the four fields, and what follows them.
fn counters(rest: &str) -> (String, String, &str) {
    let mut words = rest.splitn(3, char::is_whitespace);
    let number = |word: Option<&str>| word.filter(|w| w.parse::<u32>().is_ok()).map(str::to_owned);
    match (number(words.next()), number(words.next())) {
        (Some(half), Some(full)) => (half, full, words.next().unwrap_or_default()),
        _ => ("0".to_owned(), "1".to_owned(), rest),
    }
}

/// Opcodes with their operands.
fn operations(text: &str) -> Result<Vec<(String, Vec<String>)>, String> {
    let mut found = Vec::new();
    let mut words: Vec<String> = Vec::new();
    let mut word = String::new();
    let mut quoted = false;
    for c in text.chars().chain([';']) {
        match c {
            '"' => quoted = !quoted,
            ';' | ' ' | '\t' if !quoted => {
                if !word.is_empty() {
                    words.push(std::mem::take(&mut word));
                }
                if c == ';' && !words.is_empty() {
                    let operands = words.split_off(1);
                    found.extend(words.pop().map(|code| (code, operands)));
                }
            }
            c => word.push(c),
        }
    }
    if quoted {
        return Err(tr!("a text in double quotes does not end on its line").to_owned());
    }
    Ok(found)
}

/// The drills as EPD, one a line.
#[must_use]
pub fn write(drills: &[Drill]) -> String {
    drills.iter().map(row).collect()
}

fn row(drill: &Drill) -> String {
    let position = drill.root.position();
    let mut out = PositionKey::of(position).fields();
    let best: Vec<String> = grade::published(drill)
        .iter()
        .map(|mv| line::san(position, mv))
        .collect();
    if !best.is_empty() {
        out += &format!(" bm {};", best.join(" "));
    }
    let leaf = drill.solution.leaves().into_iter().next();
    let first = leaf.filter(|leaf| *leaf != NodeId::ROOT && drill.solution.ply(*leaf) > 1);
    if let Some(leaf) = first {
        out += &format!(" pv {};", drill.solution.sans(leaf).join(" "));
    }
    // A double quote has no escape in EPD.
    let text = |words: &str| words.replace('"', "'");
    out + &format!(
        " id \"{}\"; c0 \"{}\";\n",
        text(&drill.id),
        text(&drill.source)
    )
}

#[cfg(test)]
mod tests {
    use super::super::builtin;
    use super::*;

    /// In the form of the PGN standard, section 16.2; the positions are made for the test.
    #[test]
    fn best_moves_lines_and_moves_to_avoid() {
        let text = "\u{FEFF}# a comment\n\n\
            8/8/8/8/8/1k6/7r/K7 b - - pv Rh1#; bm Rh1#; id \"Corner, 1\"; c0 \"made for a test\";\n\
            4k3/8/8/3q1p2/4P3/8/8/4K3 w - - 3 40 bm exd5; am exf5; acd 12; id \"Corner, 1\";\r\n";
        let drills = load(text, "a.epd").unwrap();
        assert_eq!(drills[0].id, "corner-1");
        assert_eq!(drills[0].source, "made for a test");
        assert_eq!(drills[0].solution.len(), 1);
        assert_eq!(drills[1].id, "corner-1-2");
        assert_eq!(drills[1].source, "a.epd, line 4");
        assert_eq!(
            drills[1].note.as_deref(),
            Some("Published as moves to avoid: exf5.")
        );
        assert!(line::fen(drills[1].root.position()).ends_with(" 3 40"));
    }

    #[test]
    fn what_is_wrong_is_told_with_its_line() {
        let text = "8/8/8 w\n8/8/8/8/8/1k6/7r/K7 b - - bm Rh9;\n8/8/8/8/8/1k6/7r/K7 b - - id \"x\n";
        let told: Vec<String> = load(text, "a.epd")
            .unwrap_err()
            .iter()
            .map(ToString::to_string)
            .collect();
        insta::assert_snapshot!(told.join("\n"), @r"
        a.epd:1: a position of EPD has four fields: men, side to move, castling, en passant
        a.epd:2: drill 'position': 'Rh9' is not a move: '9' is no rank; ranks are 1 to 8
        a.epd:3: a text in double quotes does not end on its line
        ");
        assert!(load("# nothing\n", "a.epd").is_err());
    }

    /// What EPD can say of a drill comes back.
    #[test]
    fn the_collection_there_and_back() {
        let all = builtin().unwrap();
        let back = load(&write(all), "a.epd").unwrap();
        assert_eq!(all.len(), back.len());
        for (before, after) in all.iter().zip(&back) {
            assert_eq!(before.id, after.id);
            assert_eq!(
                line::fen(before.root.position())
                    .split(' ')
                    .take(4)
                    .collect::<Vec<_>>(),
                line::fen(after.root.position())
                    .split(' ')
                    .take(4)
                    .collect::<Vec<_>>()
            );
            assert_eq!(
                grade::published(before),
                grade::published(after),
                "{}",
                before.id
            );
        }
    }

    proptest::proptest! {
        #[test]
        fn no_text_is_too_strange(text in "([KQRBNPkqrbnp1-8/]| |w|b|-|bm|pv|;|\"|\n|\\PC){0,80}") {
            if let Err(errors) = load(&text, "a.epd") {
                assert!(!errors.is_empty());
            }
        }
    }
}
