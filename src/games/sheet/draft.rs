//! A sheet while it is typed: kept as it stands, read at any moment.

use serde::{Deserialize, Serialize};

use super::read::{SheetError, part};
use super::{Repair, Sheet, Slip, read, repaired};
use crate::board::line::san;
use crate::store::Record;

/// One move as it was typed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct DraftEntry {
    pub text: String,
    /// Time on the clock after it, in milliseconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clock_ms: Option<u64>,
}

/// The sheet as far as it is typed. Kept after each line.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct SheetDraft {
    /// Tags by the names of the PGN standard, in the order of typing.
    pub tags: Vec<(String, String)>,
    pub entries: Vec<DraftEntry>,
    /// As PGN has it; empty while none is typed.
    pub result: String,
    /// What was mended, in sentences.
    pub mended: Vec<String>,
}

impl Record for SheetDraft {
    const TABLE: &'static str = "sheet-drafts";
    const VERSION: u32 = 1;
}

/// The line that is being typed: kept after each key, apart from the sheet, which is longer.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct SheetLine {
    pub text: String,
}

impl Record for SheetLine {
    const TABLE: &'static str = "sheet-lines";
    const VERSION: u32 = 1;
    const DISPOSABLE: bool = true;
}

impl SheetDraft {
    /// Takes a typed line: a line of the head, moves in the place of the entry `at` or behind the last, a time, a result. Gives the entry behind
    /// what was typed.
    ///
    /// # Errors
    /// A line of the head is wrong, or the game would be longer than any; nothing has changed.
    pub fn take(&mut self, at: usize, line: &str) -> Result<usize, SheetError> {
        let typed = part(line)?;
        for (name, value) in typed.tags {
            self.tags.retain(|(had, _)| *had != name);
            // An empty value takes the tag back.
            if !value.is_empty() {
                self.tags.push((name, value));
            }
        }
        if typed.result != "*" || line.trim() == "*" {
            typed.result.clone_into(&mut self.result);
        }
        if typed.entries.is_empty() {
            // A time alone belongs to the move before the cursor.
            let before = at.checked_sub(1).and_then(|b| self.entries.get_mut(b));
            let timed = part(&format!("e4 {line}"))?.entries.pop();
            if let (Some(entry), Some(ms)) = (before, timed.and_then(|e| e.clock_ms)) {
                entry.clock_ms = Some(ms);
            }
            return Ok(at);
        }
        let new: Vec<DraftEntry> = typed
            .entries
            .into_iter()
            .map(|e| DraftEntry {
                text: e.text,
                clock_ms: e.clock_ms,
            })
            .collect();
        let count = new.len();
        let to = (at + 1).min(self.entries.len());
        let from = at.min(to);
        let mut entries = self.entries.clone();
        // Its clock stays with a move that is typed anew.
        let kept = entries.get(at).and_then(|e| e.clock_ms);
        entries.splice(from..to, new);
        if let Some(last) = entries.get_mut(from + count - 1) {
            last.clock_ms = last.clock_ms.or(kept);
        }
        let next = Self {
            entries,
            ..self.clone()
        };
        // Whatever is kept can be read again.
        read(&next.text())?;
        *self = next;
        Ok(from + count)
    }

    /// Takes an entry away.
    pub fn remove(&mut self, at: usize) {
        if at < self.entries.len() {
            self.entries.remove(at);
        }
    }

    /// Only so many entries from the first on stay.
    pub fn cut(&mut self, entries: usize) {
        self.entries.truncate(entries);
    }

    /// The game of a reading takes the place of what is written; what that changes is noted.
    pub fn mend(&mut self, sheet: &Sheet, repair: &Repair) {
        let mut pos = sheet.start.clone();
        let mut entries = Vec::new();
        for (mv, from) in repair.moves.iter().zip(&repair.from) {
            let old = from.and_then(|at| self.entries.get(at));
            let changed = from.is_none_or(|at| repair.slips.iter().any(|slip| touches(slip, at)));
            let text = match old {
                // What the slip does not touch stays as he wrote it.
                Some(old) if !changed => old.text.clone(),
                _ => san(&pos, mv),
            };
            entries.push(DraftEntry {
                text,
                clock_ms: old.and_then(|o| o.clock_ms),
            });
            shakmaty::Position::play_unchecked(&mut pos, mv);
        }
        self.mended.push(repaired(sheet, repair));
        self.entries = entries;
    }

    /// The text of the sheet, as `foreply games sheet` reads it.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = String::new();
        for (name, value) in self.tags.iter().filter(|(name, _)| name != "SetUp") {
            text.push_str(&format!("{name}: {value}\n"));
        }
        for entry in &self.entries {
            text.push_str(&entry.text);
            if let Some(ms) = entry.clock_ms {
                let s = ms / 1000;
                text.push_str(&format!(" {}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60));
            }
            text.push('\n');
        }
        text + &self.result + "\n"
    }

    /// The sheet; `None` while no move is typed.
    #[must_use]
    pub fn sheet(&self) -> Option<Sheet> {
        read(&self.text()).ok()
    }
}

fn touches(slip: &Slip, at: usize) -> bool {
    match slip {
        Slip::Another { at: slipped, .. } => *slipped == at,
        Slip::Missing { .. } => false,
        Slip::TooMany { at: first, entries } => (*first..first + entries).contains(&at),
        Slip::Swapped { at: first } => (*first..first + 3).contains(&at),
    }
}

#[cfg(test)]
mod tests {
    use super::super::fit;
    use super::*;

    fn texts(of: &SheetDraft) -> Vec<&str> {
        of.entries.iter().map(|e| e.text.as_str()).collect()
    }

    #[test]
    fn typed_line_by_line_and_read_again() {
        let mut draft = SheetDraft::default();
        assert_eq!(draft.take(0, "White: Verrick, Ansa").unwrap(), 0);
        assert_eq!(draft.sheet(), None);
        assert_eq!(draft.take(0, "1. e4 e5 2. Nf3 0:58").unwrap(), 3);
        assert_eq!(draft.take(3, "0:57:30").unwrap(), 3);
        assert_eq!(draft.entries[2].clock_ms, Some(3_450_000));
        assert_eq!(draft.take(3, "Nc6 Bb5 a6 1-0").unwrap(), 6);
        assert_eq!(draft.result, "1-0");
        // An earlier one is typed anew; its clock stays.
        assert_eq!(draft.take(2, "Nc3").unwrap(), 3);
        assert_eq!(draft.entries[2].clock_ms, Some(3_450_000));
        assert_eq!(texts(&draft), ["e4", "e5", "Nc3", "Nc6", "Bb5", "a6"]);
        // Two in the place of one.
        draft.take(1, "c5 Nf3").unwrap();
        assert_eq!(draft.entries.len(), 7);
        draft.remove(1);
        draft.cut(3);
        assert_eq!(texts(&draft), ["e4", "Nf3", "Nc3"]);
        let sheet = draft.sheet().unwrap();
        assert_eq!((sheet.entries.len(), sheet.result), (3, "1-0"));
        let kept: SheetDraft =
            serde_json::from_str(&serde_json::to_string(&draft).unwrap()).unwrap();
        assert_eq!(kept, draft);
        // What is wrong changes nothing.
        assert!(draft.take(3, "FEN: here").is_err());
        assert_eq!(kept, draft);
        draft.take(3, "White:").unwrap();
        assert!(draft.tags.is_empty());
    }

    /// The sheet of the Opera game (P. Morphy against the Duke of Brunswick and Count Isouard, Paris 1858) with a slip in Black's sixth move.
    #[test]
    fn a_reading_takes_the_place_of_what_is_written() {
        let mut draft = SheetDraft::default();
        let moves = "e4 e5 Nf3 d6 d4 Bg4 dxe5 Bxf3 Qxf3 dxe5 Bc4 Nh6 Qb3 Qe7 Nc3 c6 Bg5 b5 Nxb5 cxb5 Bxb5 Nbd7";
        draft.take(0, &moves.replace("Nh6", "Ng6 0:50")).unwrap();
        let sheet = draft.sheet().unwrap();
        let fitted = fit(&sheet);
        assert_eq!(fitted.misfit, Some(11));
        let right = fitted.repairs.iter().find(|r| {
            let mut other = draft.clone();
            other.mend(&sheet, r);
            texts(&other).join(" ") == moves
        });
        draft.mend(&sheet, right.unwrap());
        assert_eq!(texts(&draft).join(" "), moves);
        assert_eq!(draft.entries[11].clock_ms, Some(3_000_000));
        assert_eq!(draft.mended, ["Black's 6th was 6...Nh6, not 'Ng6'."]);
        assert_eq!(fit(&draft.sheet().unwrap()).misfit, None);
    }
}
