//! Lines that he had prepared, and where a game left them.
//!
//! A preparation is PGN: each game of it is a line with its variations. A position is prepared where it stands in one of
//! them for the same side, however it was reached; a move is prepared where it follows there.

use std::collections::HashMap;

use serde::{Deserialize, Serialize};
use shakmaty::{Color, Move};

use crate::board::{Line, line};
use crate::games::OwnGame;
use crate::notation::{self, Reading};
use crate::store::Record;
use crate::tree::pgn::{self, Game};

/// Bytes of one file.
pub const FILE_MAX: usize = 1 << 20;

/// A file of prepared lines; it lies under its name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct PreparedLines {
    /// For whom: true for White.
    pub white: bool,
    /// As it stood in the file, as UTF-8.
    pub pgn: String,
}

impl Record for PreparedLines {
    const TABLE: &'static str = "prepared-lines";
    const VERSION: u32 = 1;
}

/// The moves prepared in each position.
#[derive(Debug, Clone, Default)]
pub struct Book {
    moves: HashMap<u128, Vec<Move>>,
}

/// Where a game left the preparation.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct PreparationEnd {
    /// Half-moves of the game that were prepared.
    pub plies: usize,
    /// The half-move that was not: by the player, or by the opponent.
    pub his: bool,
    pub played: String,
    /// What was prepared in its place, in SAN.
    pub prepared: Vec<String>,
    /// The lines ended there: nothing was prepared in that position.
    pub ended: bool,
    /// Milliseconds for each of his first moves after it, at most three.
    pub then_ms: Vec<u64>,
}

/// His moves after the preparation whose times are told.
const THEN: usize = 3;

impl Book {
    /// Takes in the lines of a file; gives how many games it held.
    pub fn add(&mut self, text: &str) -> usize {
        let games: Vec<Game> = pgn::games(text).filter_map(Result::ok).collect();
        for game in &games {
            self.add_game(game);
        }
        games.len()
    }

    fn add_game(&mut self, game: &Game) {
        // The line to each move of the file, in its order: a parent comes before what follows it.
        let mut lines: Vec<Option<Line>> = Vec::with_capacity(game.moves.len());
        for (at, mv) in game.moves.iter().enumerate() {
            let before = match mv.parent {
                None => Some(Line::new(game.start.clone())),
                Some(parent) if parent < at => lines.get(parent).cloned().flatten(),
                Some(_) => None,
            };
            let next = before.and_then(|line| {
                let played = legal(&mv.text, &line)?;
                let moves = self.moves.entry(line.key()).or_default();
                if !moves.contains(&played) {
                    moves.push(played.clone());
                }
                line.child(&played).ok()
            });
            lines.push(next);
        }
    }

    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.moves.is_empty()
    }

    /// Where a game left it; `None` where it was never in it.
    #[must_use]
    pub fn end_of(&self, game: &OwnGame) -> Option<PreparationEnd> {
        let lines = game.lines();
        let moves = &game.game.main_moves;
        let known = |ply: usize| {
            let line = lines.get(ply)?;
            self.moves.get(&line.key())
        };
        let prepared = |ply: usize| {
            known(ply).is_some_and(|m| moves.get(ply).is_some_and(|mv| m.contains(mv)))
        };
        let last = (0..moves.len()).rfind(|p| prepared(*p))?;
        let left = last + 1;
        let here = lines.get(left)?;
        let there = known(left).map(Vec::as_slice).unwrap_or_default();
        let san = |mv: &Move| line::san(here.position(), mv);
        let own = (left..moves.len()).filter(|p| game.is_his(*p)).take(THEN);
        Some(PreparationEnd {
            plies: left,
            his: game.is_his(left),
            played: moves.get(left).map(san).unwrap_or_default(),
            prepared: there.iter().map(san).collect(),
            ended: there.is_empty(),
            then_ms: own.filter_map(|p| game.times.spent(p)).collect(),
        })
    }
}

/// The move that a text means in a position; `None` for one that is not possible there.
fn legal(text: &str, at: &Line) -> Option<Move> {
    match notation::resolve(&notation::parse(text).ok()?, at) {
        Reading::Legal(mv) => Some(mv),
        _ => None,
    }
}

/// The book of one side.
#[must_use]
pub fn book<'a>(files: impl Iterator<Item = &'a PreparedLines>, side: Color) -> Book {
    let mut book = Book::default();
    for file in files.filter(|f| f.white == side.is_white()) {
        book.add(&file.pgn);
    }
    book
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::games::{KeptGame, OwnGame};

    fn game(white: bool, moves: &str) -> OwnGame {
        OwnGame::read(&KeptGame {
            id: "20260214-1".to_owned(),
            white,
            pgn: format!("[TimeControl \"3600\"]\n\n{moves} *"),
            moves: String::new(),
        })
        .unwrap()
    }

    fn lines(pgn: &str) -> Book {
        let file = PreparedLines {
            white: true,
            pgn: pgn.to_owned(),
        };
        let book = book([&file].into_iter(), Color::White);
        assert!(super::book([&file].into_iter(), Color::Black).is_empty());
        book
    }

    #[test]
    fn a_preparation_is_left_by_one_of_the_two() {
        let book = lines("1. d4 d5 (1... Nf6 2. c4 e6 3. Nc3) 2. c4 e6 3. Nc3 *");
        // By another order of moves, and left by the player.
        let own = game(
            true,
            "1. c4 {[%clk 0:59:00]} d5 2. d4 {[%clk 0:58:00]} e6 3. Nf3 {[%clk 0:50:00]} c5 4. e3 {[%clk 0:49:00]}",
        );
        let end = book.end_of(&own).unwrap();
        assert_eq!((end.plies, end.his, end.played.as_str()), (4, true, "Nf3"));
        assert_eq!(
            (end.prepared.as_slice(), end.ended),
            (&["Nc3".to_owned()][..], false)
        );
        assert_eq!(end.then_ms, [480_000, 60_000]);
        // By the opponent.
        let end = book.end_of(&game(true, "1. d4 f5 2. c4")).unwrap();
        assert_eq!((end.plies, end.his, end.played.as_str()), (1, false, "f5"));
        assert_eq!(end.prepared, ["d5", "Nf6"]);
        // To its end.
        let end = book
            .end_of(&game(true, "1. d4 Nf6 2. c4 e6 3. Nc3 Bb4 4. e3"))
            .unwrap();
        assert_eq!((end.plies, end.ended), (5, true));
        assert_eq!(book.end_of(&game(true, "1. e4 e5")), None);
    }
}
