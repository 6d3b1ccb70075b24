//! Drills from PGN: every game with a FEN tag is one, its moves and variations the published lines.
//!
//! Words before the first move become the note, so they are seen after the commit only.

use super::made::{self, Found};
use super::{Drill, DrillError, yaml};
use crate::board::line;
use crate::tree::pgn::{self, Game};

/// The drills of a PGN text.
///
/// # Errors
/// A game cannot be read, has no FEN tag, or holds a move that is not legal; with its place.
pub(super) fn load(text: &str, file: &str) -> Result<Vec<Drill>, Vec<DrillError>> {
    let (mut found, mut wrong) = (Vec::new(), Vec::new());
    let mut games = pgn::games(text);
    let mut begins = 0;
    while let Some(game) = games.next() {
        let line = line_at(text, begins);
        begins = games.offset();
        match game {
            Ok(game) if game.from_fen => found.push(Found {
                line,
                ..position(&game)
            }),
            Ok(_) => wrong.push(error(
                file,
                line,
                0,
                crate::translation::text(NO_POSITION).to_owned(),
            )),
            Err(e) => wrong.push(error(
                file,
                e.line,
                e.column,
                format!("'{}': {}", e.token, e.why),
            )),
        }
    }
    if found.is_empty() && wrong.is_empty() {
        wrong.push(error(file, 0, 0, tr!("the file holds no game").to_owned()));
    }
    match made::drills(found, file) {
        Ok(drills) if wrong.is_empty() => Ok(drills),
        Ok(_) => Err(wrong),
        Err(more) => {
            wrong.extend(more);
            wrong.sort_by_key(|e| (e.line, e.column));
            Err(wrong)
        }
    }
}

const NO_POSITION: &str = tr_later!(
    "this game has no FEN tag, so it names no position to calculate; \
                           whole games go in with `foreply games add`"
);

/// The line, from 1, in which the game that begins behind `offset` has its first text.
fn line_at(text: &str, offset: usize) -> usize {
    let before = text.get(..offset).unwrap_or_default();
    let blank = text.get(offset..).unwrap_or_default();
    let gap = blank.len() - blank.trim_start().len();
    let skipped = blank.get(..gap).unwrap_or_default();
    1 + before.matches('\n').count() + skipped.matches('\n').count()
}

fn error(file: &str, line: usize, column: usize, what: String) -> DrillError {
    DrillError {
        file: file.to_owned(),
        line,
        column,
        id: None,
        what,
    }
}

fn position(game: &Game) -> Found {
    let written = pgn::written_trees(game).into_iter().next();
    let players = [game.tag("White"), game.tag("Black")];
    let players: Vec<&str> = players.into_iter().flatten().collect();
    let place = ["Annotator", "Event", "Site", "Date"].map(|name| game.tag(name));
    let mut source: Vec<String> = vec![players.join(" - ")];
    source.extend(place.into_iter().flatten().map(str::to_owned));
    source.retain(|part| !part.is_empty() && part.chars().any(|c| c != '?' && c != '.'));
    let name = match game.tag("Event") {
        Some(event) => event.to_owned(),
        None => players.join(" "),
    };
    let note = written.as_ref().map(|w| w.comment.trim().to_owned());
    Found {
        line: 0,
        name,
        fen: line::fen(&game.start),
        source: source.join(", "),
        lines: written.map_or(Vec::new(), |w| yaml::lines(&w.tree)),
        note: note.filter(|n| !n.is_empty()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HOMEWORK: &str = "[Event \"For Tuesday\"]\n[Annotator \"Oskarn, Bram\"]\n[SetUp \"1\"]\n\
        [FEN \"8/8/1KP5/3r4/8/8/8/k7 w - - 0 1\"]\n\n\
        {What stops the pawn?} 1. c7 Rd6+ (1... Rd1 2. c8=Q) 2. Kb5 *\n\n\
        [Event \"For Tuesday\"]\n[SetUp \"1\"]\n[FEN \"8/8/8/8/8/1k6/7r/K7 b - - 0 1\"]\n\n*\n";

    /// The first position: F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895 (from memory).
    #[test]
    fn homework_with_and_without_a_solution() {
        let drills = load(HOMEWORK, "h.pgn").unwrap();
        assert_eq!(drills.len(), 2);
        assert_eq!(
            (drills[0].id.as_str(), drills[1].id.as_str()),
            ("for-tuesday", "for-tuesday-2")
        );
        assert_eq!(drills[0].source, "Oskarn, Bram, For Tuesday");
        assert_eq!(drills[0].note.as_deref(), Some("What stops the pawn?"));
        assert_eq!(
            yaml::lines(&drills[0].solution).len(),
            2,
            "{:?}",
            drills[0].solution
        );
        assert!(drills[1].solution.is_empty());
        // And as our own format there and back.
        let text = super::super::write(&drills).unwrap();
        assert_eq!(super::super::load(&text, "x").unwrap(), drills);
    }

    #[test]
    fn what_is_no_position_is_told() {
        let text = format!("{HOMEWORK}\n[Event \"A game\"]\n\n1. e4 e5 *\n");
        let told = load(&text, "h.pgn").unwrap_err();
        assert_eq!(told.len(), 1);
        insta::assert_snapshot!(told[0].to_string(), @"h.pgn:14: this game has no FEN tag, so it names no position to calculate; whole games go in with `foreply games add`");
        assert!(load("", "h.pgn").is_err());
    }
}
