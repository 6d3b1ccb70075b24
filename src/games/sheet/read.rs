//! The text of a sheet: its head, then the moves as they stand on paper.
//!
//! Head lines are PGN tags (`[White "Verrick, Ansa"]`) or `White: Verrick, Ansa`. Moves stand one behind the other with or
//! without numbers (`12.`, `12...`, `12`), in any way of writing a move; a time of the form `1:23` or `1:23:45`, bare or in
//! brackets, is the clock after the move before it. What cannot be read at all may be written `?`. `1-0`, `0-1`,
//! `1/2-1/2` (or `1/2`, `½`) end the game; `;` begins words up to the end of the line, `{` words up to `}`.

use std::ops::Range;

use shakmaty::Chess;

use super::{Entry, Sheet};
use crate::board::line::read_fen;
use crate::notation;
use crate::text::{self, TypedDate};

/// Entries of a sheet; no game of chess has more half-moves that were written by hand.
const ENTRIES_MAX: usize = 1200;
/// Tags by which lines of the head are known.
const HEAD: [&str; 13] = [
    "Event",
    "Site",
    "Date",
    "Round",
    "White",
    "Black",
    "Result",
    "WhiteElo",
    "BlackElo",
    "Opening",
    "TimeControl",
    "Annotator",
    "FEN",
];

/// The text is no sheet.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SheetError {
    #[error("{}", tr!("no move is written on it; write the moves behind each other: 1. e4 e5 2. Nf3"))]
    Empty,
    #[error("{}", tr!("line {line}: {reason}"))]
    Wrong { line: usize, reason: String },
}

impl SheetError {
    fn at(line: usize, reason: impl Into<String>) -> Self {
        let reason = reason.into();
        Self::Wrong { line, reason }
    }
}

/// Reads a sheet. What is no move is kept as an entry that cannot be read, and fits nowhere as it stands.
///
/// # Errors
/// There is no move at all, the game is longer than any, or a start position is none.
pub fn read(text: &str) -> Result<Sheet, SheetError> {
    let sheet = part(text)?;
    match sheet.entries.is_empty() {
        true => Err(SheetError::Empty),
        false => Ok(sheet),
    }
}

/// The same of a part of a sheet, which may hold no move.
pub(super) fn part(text: &str) -> Result<Sheet, SheetError> {
    let mut sheet = Sheet {
        tags: Vec::new(),
        entries: Vec::new(),
        result: "*",
        start: Chess::default(),
    };
    let mut words = Words::default();
    let mut offset = 0;
    for (at, line) in text.split_inclusive('\n').enumerate() {
        let number = at + 1;
        match head(line).filter(|_| sheet.entries.is_empty() && !words.inside) {
            Some((name, value)) => take_tag(&mut sheet, name, value, number)?,
            None => words.take(&mut sheet, line, number, offset)?,
        }
        offset += line.len();
    }
    Ok(sheet)
}

/// A line of the head: name and value.
fn head(line: &str) -> Option<(&'static str, &str)> {
    let line = line.trim();
    let (name, value) = match line.strip_prefix('[').and_then(|l| l.strip_suffix(']')) {
        Some(tag) => {
            let (name, value) = tag.split_once(' ')?;
            (name, value.trim().trim_matches('"'))
        }
        None => line.split_once(':')?,
    };
    let known = HEAD.iter().find(|n| n.eq_ignore_ascii_case(name.trim()))?;
    Some((known, value.trim()))
}

fn take_tag(sheet: &mut Sheet, name: &str, value: &str, line: usize) -> Result<(), SheetError> {
    match name {
        "Result" => {
            sheet.result = result(value).ok_or_else(|| {
                SheetError::at(
                    line,
                    tr!("'{value}' is no result; write 1-0, 0-1, 1/2-1/2 or *"),
                )
            })?;
        }
        "FEN" => {
            sheet.start = read_fen(value).map_err(|e| SheetError::at(line, e.to_string()))?;
            sheet.tags.push(("SetUp".to_owned(), "1".to_owned()));
            sheet.tags.push(("FEN".to_owned(), value.to_owned()));
        }
        "Date" => {
            sheet.tags.retain(|(had, _)| had != name);
            sheet.tags.push((name.to_owned(), pgn_date(value)));
        }
        name => {
            sheet.tags.retain(|(had, _)| had != name);
            sheet.tags.push((name.to_owned(), value.to_owned()));
        }
    }
    Ok(())
}

/// A day as PGN has it (section 8.1.1.3), also where it was typed as ISO 8601 or the reader's locale have it; what is none
/// stays as it was written on the sheet.
fn pgn_date(value: &str) -> String {
    let day = TypedDate::of(value).read(text::chosen());
    day.map_or_else(
        |_| value.to_owned(),
        |day| day.strftime("%Y.%m.%d").to_string(),
    )
}

fn result(text: &str) -> Option<&'static str> {
    match text
        .replace(['\u{2013}', '\u{2212}'], "-")
        .replace(' ', "")
        .as_str()
    {
        "1-0" | "1:0" => Some("1-0"),
        "0-1" | "0:1" => Some("0-1"),
        "1/2-1/2" | "1/2" | "\u{bd}-\u{bd}" | "\u{bd}" | "\u{bd}:\u{bd}" | "=" | "draw"
        | "remis" => Some("1/2-1/2"),
        "*" => Some("*"),
        _ => None,
    }
}

/// What the words before have left open.
#[derive(Debug, Default)]
struct Words {
    /// Inside `{`.
    inside: bool,
    number: Option<(u32, bool)>,
}

impl Words {
    fn take(
        &mut self,
        sheet: &mut Sheet,
        line: &str,
        number: usize,
        offset: usize,
    ) -> Result<(), SheetError> {
        for range in words(line) {
            let word = line.get(range.clone()).unwrap_or_default();
            if self.inside {
                self.inside = !word.ends_with('}');
                if let Some(ms) = time(word.trim_matches(['}', ']'])) {
                    clock(sheet, ms);
                }
                continue;
            }
            if word.starts_with(';') {
                return Ok(());
            }
            if let Some(rest) = word.strip_prefix('{') {
                self.inside = !rest.ends_with('}');
                if let Some(ms) = time(rest.trim_end_matches('}')) {
                    clock(sheet, ms);
                }
                continue;
            }
            let span = offset + range.start..offset + range.end;
            self.word(sheet, word, number, span)?;
        }
        Ok(())
    }

    fn word(
        &mut self,
        sheet: &mut Sheet,
        word: &str,
        line: usize,
        span: Range<usize>,
    ) -> Result<(), SheetError> {
        let (number, rest) = numbered(word);
        if number.is_some() {
            self.number = number;
        }
        if rest.is_empty() {
            return Ok(());
        }
        if number.is_none() {
            if let Some(ms) = time(rest.trim_matches(['(', ')', '[', ']', '@'])) {
                clock(sheet, ms);
                return Ok(());
            }
            // A half alone ends the game too; it is no move of chess in any way of writing.
            if let Some(found) = result(rest).filter(|_| rest != "=") {
                sheet.result = found;
                return Ok(());
            }
        }
        if sheet.entries.len() == ENTRIES_MAX {
            let reason = tr!("more than {ENTRIES_MAX} moves; one game to a sheet");
            return Err(SheetError::at(line, reason));
        }
        sheet.entries.push(Entry {
            text: rest.to_owned(),
            token: notation::parse(rest),
            line,
            span: span.end - rest.len()..span.end,
            number: self.number.take(),
            clock_ms: None,
        });
        Ok(())
    }
}

fn clock(sheet: &mut Sheet, ms: u64) {
    if let Some(entry) = sheet.entries.last_mut() {
        entry.clock_ms = Some(ms);
    }
}

/// The words of a line by their bytes.
fn words(line: &str) -> impl Iterator<Item = Range<usize>> {
    let start = line.as_ptr() as usize;
    line.split_whitespace().map(move |word| {
        let at = word.as_ptr() as usize - start;
        at..at + word.len()
    })
}

/// `12.`, `12...`, `12.e4`, `12`: the number, whether Black's, and what follows.
fn numbered(word: &str) -> (Option<(u32, bool)>, &str) {
    let digits = word.bytes().take_while(u8::is_ascii_digit).count();
    let (number, rest) = word.split_at(digits);
    let dots = rest.bytes().take_while(|b| *b == b'.').count();
    let after = rest.get(dots..).unwrap_or_default();
    let bare = digits > 0 && after.is_empty();
    match number.parse() {
        // '0-0' and '1-0' begin with a digit too.
        Ok(number) if digits <= 3 && (dots > 0 || bare) => (Some((number, dots > 1)), after),
        _ => (None, word),
    }
}

/// `1:23` (hours and minutes) or `1:23:45`, in milliseconds.
fn time(word: &str) -> Option<u64> {
    let mut parts = word.split(':').map(|part| {
        let right = (1..=2).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
        part.parse::<u64>().ok().filter(|_| right)
    });
    let (hours, minutes) = (parts.next()??, parts.next()??);
    let seconds = match parts.next() {
        None => 0,
        Some(seconds) => seconds?,
    };
    let right = parts.next().is_none() && minutes < 60 && seconds < 60;
    right.then_some(((hours * 60 + minutes) * 60 + seconds) * 1000)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHEET: &str = "\
White: Verrick, Ansa
black: Pell, Doran
[Event \"Harrowmere Chess League\"]
Round: 5
1. e4 e5 2 Nf3 0:58 Nc6 (0:57:30)
3.Bb5 ; the old line
a6 {thought long 0:49} 4. 0-0 ?
½
";

    #[test]
    fn head_moves_clocks_and_result_are_read() {
        let sheet = read(SHEET).unwrap();
        let texts: Vec<&str> = sheet.entries.iter().map(|e| e.text.as_str()).collect();
        assert_eq!(texts, ["e4", "e5", "Nf3", "Nc6", "Bb5", "a6", "0-0", "?"]);
        assert_eq!(sheet.result, "1/2-1/2");
        let tags: Vec<&str> = sheet.tags.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(tags, ["White", "Black", "Event", "Round"]);
        let clocks: Vec<Option<u64>> = sheet.entries.iter().map(|e| e.clock_ms).collect();
        let minutes = |m: u64| Some(m * 60_000);
        let half = Some(57 * 60_000 + 30_000);
        assert_eq!(clocks[2..6], [minutes(58), half, None, minutes(49)]);
        assert_eq!(sheet.entries[4].number, Some((3, false)));
        assert!(sheet.entries[7].token.is_err());
        for entry in &sheet.entries {
            assert_eq!(&SHEET[entry.span.clone()], entry.text);
            let line = SHEET[..entry.span.start].matches('\n').count() + 1;
            assert_eq!(line, entry.line);
        }
    }

    #[test]
    fn what_is_no_sheet_is_told_with_its_line() {
        assert_eq!(read("White: Verrick, Ansa\n"), Err(SheetError::Empty));
        let wrong = read("Event: League\nResult: two\n1. e4").unwrap_err();
        insta::assert_snapshot!(wrong.to_string(), @"line 2: 'two' is no result; write 1-0, 0-1, 1/2-1/2 or *");
        let wrong = read("FEN: here\n1. e4").unwrap_err();
        assert!(wrong.to_string().starts_with("line 1: "), "{wrong}");
    }
}
