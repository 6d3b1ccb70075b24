//! A typed line as pieces: moves, verdicts, words; and the first word that is none of them.
//!
//! Beyond a plain list of moves a line may hold, each tested below:
//!
//! - move numbers before moves or alone (`14.`, `14...`, `14.Nxe4`): dropped
//! - a verdict behind a move, or alone (`=`, `+-`, `65%`, `~`)
//! - the same without a blank before it (`f5+-`), where the word is no move by itself
//! - words in braces; a brace that is not closed ends with the line
//! - `e.p.` behind a blank: belongs to the move before it

use std::borrow::Cow;
use std::ops::Range;

use crate::app::EntryToken;
use crate::notation::{self, Letters, Unreadable};
use crate::tree::Verdict;

/// A typed line, taken apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParsedLine {
    /// What could be read, up to the first word that could not.
    pub pieces: Vec<EntryToken>,
    /// That word, and its place in the line in bytes.
    pub bad: Option<(Unreadable, Range<usize>)>,
}

/// Takes a line apart.
#[must_use]
pub fn read(line: &str) -> ParsedLine {
    read_in(line, Letters::English)
}

/// Takes a line apart whose moves may have these letters; the pieces have the English ones.
#[must_use]
pub fn read_in(line: &str, letters: Letters) -> ParsedLine {
    let mut pieces = Vec::new();
    for (at, typed) in words(line) {
        let word = typed;
        let word = match word.starts_with('{') {
            true => Cow::Borrowed(word),
            false => letters.typed_word(word),
        };
        let word: &str = &word;
        match piece(word) {
            Ok(Some(piece)) => pieces.push(piece),
            Ok(None) => {}
            Err(_) if joins(&mut pieces, word) => {}
            Err(bad) => {
                if let Some(both) = with_verdict(word) {
                    pieces.extend(both);
                    continue;
                }
                let span = at..at + typed.len();
                return ParsedLine {
                    pieces,
                    bad: Some((bad, span)),
                };
            }
        }
    }
    ParsedLine { pieces, bad: None }
}

/// The words of a line with their places; what stands in braces is one word.
fn words(line: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(start) = line[at..]
        .find(|c: char| !c.is_whitespace())
        .map(|i| at + i)
    {
        let rest = &line[start..];
        let end = if rest.starts_with('{') {
            rest.find('}').map_or(rest.len(), |i| i + 1)
        } else {
            rest.find(|c: char| c.is_whitespace() || c == '{')
                .unwrap_or(rest.len())
        };
        found.push((start, &rest[..end]));
        at = start + end;
    }
    found
}

fn piece(word: &str) -> Result<Option<EntryToken>, Unreadable> {
    if let Some(inside) = word.strip_prefix('{') {
        let inside = inside.strip_suffix('}').unwrap_or(inside).trim();
        return Ok(Some(EntryToken::Comment(inside.to_owned())));
    }
    if let Ok(verdict) = Verdict::parse(word) {
        return Ok(Some(EntryToken::Verdict(verdict)));
    }
    let text = without_number(word);
    if text.is_empty() {
        return Ok(None);
    }
    notation::parse(text).map(|_| Some(EntryToken::Move(text.to_owned())))
}

/// `f5+-`: a move with its verdict behind it without a blank. The longest verdict that leaves a move.
fn with_verdict(word: &str) -> Option<[EntryToken; 2]> {
    let starts = word.char_indices().skip(1).map(|(at, _)| at);
    starts.into_iter().find_map(|at| {
        let (mv, verdict) = word.split_at(at);
        let verdict = Verdict::parse(verdict).ok()?;
        let mv = without_number(mv);
        notation::parse(mv).ok()?;
        Some([
            EntryToken::Move(mv.to_owned()),
            EntryToken::Verdict(verdict),
        ])
    })
}

/// `14.Nxe4` and `14...` without their number.
fn without_number(word: &str) -> &str {
    let behind = word.trim_start_matches(|c: char| c.is_ascii_digit());
    let rest = behind.trim_start_matches(['.', '…']);
    if rest.len() < behind.len() {
        rest
    } else {
        word
    }
}

/// Puts `e.p.` behind the move it belongs to; false for every other word.
fn joins(pieces: &mut [EntryToken], word: &str) -> bool {
    let bare = word.trim_matches(['(', ')']);
    let Some(EntryToken::Move(text)) = pieces.last_mut() else {
        return false;
    };
    let joins = matches!(bare, "e.p." | "e.p" | "ep." | "ep");
    if joins {
        text.push(' ');
        text.push_str(word);
    }
    joins
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tree::Sign;

    fn moves(texts: &[&str]) -> Vec<EntryToken> {
        texts
            .iter()
            .map(|t| EntryToken::Move((*t).to_owned()))
            .collect()
    }

    #[test]
    fn numbers_are_dropped() {
        let typed = read("14.Nxe4 dxe4 15. Qxe4 15... Nf6");
        assert_eq!(typed.pieces, moves(&["Nxe4", "dxe4", "Qxe4", "Nf6"]));
        assert_eq!(typed.bad, None);
        assert_eq!(read("  14… ").pieces, moves(&[]));
    }

    #[test]
    fn verdicts_and_words_stand_behind_their_move() {
        let typed = read("Nxe4 +- {and the queen falls}Qh5 65% {open");
        let expected = vec![
            EntryToken::Move("Nxe4".into()),
            EntryToken::Verdict(Verdict::Sign(Sign::WhiteWins)),
            EntryToken::Comment("and the queen falls".into()),
            EntryToken::Move("Qh5".into()),
            EntryToken::Verdict(Verdict::Percent(65)),
            EntryToken::Comment("open".into()),
        ];
        assert_eq!(typed.pieces, expected);
    }

    #[test]
    fn a_verdict_may_stand_close_to_its_move() {
        let pair = |mv: &str, verdict: &str| {
            vec![
                EntryToken::Move(mv.to_owned()),
                EntryToken::Verdict(Verdict::parse(verdict).unwrap()),
            ]
        };
        for (line, mv, verdict) in [
            ("f5+-", "f5", "+-"),
            ("Nf3-+", "Nf3", "-+"),
            ("Qh7+=", "Qh7", "+="),
            ("14.exd5+/-", "exd5", "+/-"),
            ("O-O~", "O-O", "~"),
            ("e8=Q+-", "e8=Q", "+-"),
        ] {
            assert_eq!(read(line).pieces, pair(mv, verdict), "{line}");
        }
        // A check is no verdict.
        assert_eq!(read("Qh7+ ed").pieces, moves(&["Qh7+", "ed"]));
        assert!(read("xyz+-").bad.is_some());
    }

    #[test]
    fn en_passant_belongs_to_the_move_before() {
        assert_eq!(read("exd6 e.p. Qxd6").pieces, moves(&["exd6 e.p.", "Qxd6"]));
        assert!(read("e.p.").bad.is_some());
    }

    #[test]
    fn reading_stops_at_the_first_word_that_is_nothing() {
        let typed = read("Nxe4 dxe4 xyz Qxe4");
        assert_eq!(typed.pieces, moves(&["Nxe4", "dxe4"]));
        let (bad, span) = typed.bad.unwrap();
        assert_eq!((bad.text.as_str(), span), ("xyz", 10..13));
    }
}
