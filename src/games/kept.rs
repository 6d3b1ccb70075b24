//! Own games as they are kept, and as the rest of this room reads them.

use serde::{Deserialize, Serialize};
use shakmaty::{Color, Move};

use super::time::Times;
use crate::board::{Line, line};
use crate::store::Record;
use crate::tree::pgn::{self, Game};

/// One game as it is kept: its text is the truth, the rest is read from it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptGame {
    /// Date and a hash: `20260214-3f9a1c`. Never changes once given.
    pub id: String,
    /// True where the player had White.
    pub white: bool,
    /// The game as it stood in the file, as UTF-8.
    pub pgn: String,
    /// The main line in UCI notation, for comparing games without reading them.
    pub moves: String,
}

/// Games that came in together. A later game of the same id stands in the place of an earlier one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Block {
    pub games: Vec<KeptGame>,
}

impl Record for Block {
    const TABLE: &'static str = "games";
    const VERSION: u32 = 1;
}

/// Who the games are of, and what he answered when a name was not sure.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Player {
    pub name: String,
    /// Other ways of writing it.
    pub also: Vec<String>,
    /// Names that look like his and are not.
    pub not: Vec<String>,
}

impl Record for Player {
    const TABLE: &'static str = "player";
    const VERSION: u32 = 1;
}

/// What happened to a game since it was added.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Marks {
    /// The player has said that it is over.
    pub over: bool,
    /// The judge has spoken: what is written about it from here on is no longer from memory.
    pub judged: bool,
    /// The half-moves whose notes have become attempts, with the attempt's name.
    #[serde(default)]
    pub notes: Vec<(usize, String)>,
}

impl Record for Marks {
    const TABLE: &'static str = "game-marks";
    const VERSION: u32 = 1;
}

/// A game of the player's, read.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnGame {
    pub id: String,
    pub side: Color,
    pub game: Game,
    pub times: Times,
}

/// Points of a game for the player.
pub type Points = Option<f64>;

impl OwnGame {
    /// The game of a kept text; `None` where the text is none, which no text that was added is.
    #[must_use]
    pub fn read(kept: &KeptGame) -> Option<Self> {
        let game = pgn::games(&kept.pgn).next()?.ok()?;
        Some(Self {
            id: kept.id.clone(),
            side: Color::from_white(kept.white),
            times: Times::of(&game),
            game,
        })
    }

    /// Half-moves of the main line.
    #[must_use]
    pub fn plies(&self) -> usize {
        self.game.main_moves.len()
    }

    /// True where the player made this half-move (0 is the first).
    #[must_use]
    pub fn is_his(&self, ply: usize) -> bool {
        let first = shakmaty::Position::turn(&self.game.start);
        let mover = if ply.is_multiple_of(2) {
            first
        } else {
            first.other()
        };
        mover == self.side
    }

    /// The half-move with which the player made the move of this number; `None` where he made none.
    #[must_use]
    pub fn his_ply(&self, number: usize) -> Option<usize> {
        (0..self.plies()).find(|p| self.is_his(*p) && self.number(*p) == number)
    }

    /// The move number of a half-move.
    #[must_use]
    pub fn number(&self, ply: usize) -> usize {
        let start = &self.game.start;
        let black = usize::from(shakmaty::Position::turn(start).is_black());
        let first = u32::from(shakmaty::Position::fullmoves(start)) as usize;
        first + (ply + black) / 2
    }

    /// `17` or `17...`: a half-move's number as it is printed before the move.
    #[must_use]
    pub fn numbered(&self, ply: usize) -> String {
        let black = shakmaty::Position::turn(&self.game.start).is_black();
        let dots = if ply.is_multiple_of(2) == black {
            "..."
        } else {
            "."
        };
        format!("{}{dots}", self.number(ply))
    }

    /// The main line with its position after each half-move: the line to `ply` half-moves.
    #[must_use]
    pub fn line_to(&self, ply: usize) -> Line {
        let mut line = Line::new(self.game.start.clone());
        for mv in self.game.main_moves.iter().take(ply) {
            if line.push(mv).is_err() {
                break;
            }
        }
        line.rooted_here()
    }

    /// The lines to every half-move, the start included: one more than there are half-moves.
    #[must_use]
    pub fn lines(&self) -> Vec<Line> {
        let mut line = Line::new(self.game.start.clone());
        let mut lines = vec![line.clone()];
        for mv in &self.game.main_moves {
            if line.push(mv).is_err() {
                break;
            }
            lines.push(line.clone().rooted_here());
        }
        lines
    }

    /// The name of the other player.
    #[must_use]
    pub fn opponent(&self) -> &str {
        let tag = self.side.fold_wb("Black", "White");
        self.game.tag(tag).unwrap_or("?")
    }

    /// `2026.02.14`, or what the file says instead.
    #[must_use]
    pub fn date(&self) -> &str {
        self.game.tag("Date").unwrap_or("????.??.??")
    }

    /// Players, event and date on one line. From a file: not safe to print as it is.
    #[must_use]
    pub fn heading(&self) -> String {
        let tag = |name| self.game.tag(name).unwrap_or("?");
        let mut text = format!("{} - {}", tag("White"), tag("Black"));
        for more in [self.game.tag("Event"), self.game.tag("Date")] {
            text.extend(more.into_iter().flat_map(|m| [", ", m]));
        }
        text
    }

    /// The player's points: 1, 0.5 or 0; `None` where the game has no result.
    #[must_use]
    pub fn points(&self) -> Points {
        let white = white_points(&self.game)?;
        Some(if self.side.is_white() {
            white
        } else {
            1.0 - white
        })
    }
}

/// White's points: 1, 0.5 or 0; `None` where the game has no result.
#[must_use]
pub fn white_points(game: &Game) -> Points {
    Some(match result(game)? {
        "1-0" => 1.0,
        "0-1" => 0.0,
        _ => 0.5,
    })
}

/// The result of a game: of its marker, else of its tag; `None` where both leave it open.
#[must_use]
pub fn result(game: &Game) -> Option<&str> {
    let known = |r: &&str| matches!(*r, "1-0" | "0-1" | "1/2-1/2");
    let marker = game.result.as_deref().filter(known);
    let tag = game.tag("Result").map(|r| match r {
        "1/2" | "½-½" | "0.5-0.5" => "1/2-1/2",
        "1:0" | "+:-" | "+-" | "1" => "1-0",
        "0:1" | "-:+" | "-+" | "0" => "0-1",
        r => r,
    });
    marker.or(tag.filter(known))
}

/// The main line in UCI notation, one text.
#[must_use]
pub fn uci_text(moves: &[Move]) -> String {
    let moves: Vec<String> = moves.iter().map(line::uci).collect();
    moves.join(" ")
}
