//! Drills: positions to calculate, with their published solution.
//!
//! Takes YAML text; gives [`Drill`]s whose position and solution are known to be legal. This is the
//! only room that knows the YAML library.
//!
//! A file is a list of records, each beginning with `- ` at the start of a line:
//!
//! ```yaml
//! - id: saavedra-1895            # unique, kebab-case
//!   title: The pawn that would not queen
//!   fen: 8/8/1KP5/3r4/8/8/8/k7 w - - 0 1
//!   task: win                    # win | draw | move
//!   minutes: 8
//!   source: F. Saavedra, after G. Barbier, Glasgow Weekly Citizen, 1895
//!   themes: [underpromotion, stalemate-defence]
//!   lines: ["c7 Rd6+ Kb5 Rd5+ Kb4 Rd4+ Kb3 Rd3+ Kc2 Rd4 c8=R Ra4 Kb3"]
//!   grade: 3                     # 1 to 5, from `drills check --grade`; may be left out
//!   known-by: table              # table | search: what shows its worth; may be left out
//!   note: what the published solution overlooks, where it does   # may be left out
//! ```
//!
//! `lines: []` says that nothing was published: then the judge alone knows.
//!
//! Drills also come from EPD and from PGN games with a FEN tag ([`load_file`]).
//!
//! Lenient: a byte order mark; line ends of Unix and Windows; comments; move numbers in `lines`; moves
//! as [`crate::notation`] reads them. Unknown fields are errors.
//!
//! # The collection
//!
//! `drills/` holds 464: `starter.yaml` (met first), `endings.yaml` (studies, textbook endings), `games-grade-N.yaml`
//! (moments of games played before 1970, from memory; each score was replayed to its end, each position
//! searched by two engines) and `ladder.yaml` (24 positions to play out, themes `ladder-1` to `ladder-4`).
//! The themes are those of the list in `collection_tests.rs`, which also holds what the collection must have of
//! each, that no position stands twice, mirrored or not, and that every source has a year before 1970.
//! `grade.rs` says what a grade is made of. New positions are offered starters first, then mixed by a seed (the
//! time of the first attempt); those of the ladder are offered to be played out only. Users' own drills (`drills add`:
//! YAML, EPD, PGN with a FEN tag) lie in the table `added-drills`, one a record.
//! Themes that mean something to a bench: `control` (the natural move is right; a quarter of all),
//! `counter-sacrifice` (the tempting move, or the one played, falls to a sacrifice).

mod builtin;
mod check;
mod epd;
mod error;
mod file;
mod from_pgn;
pub mod grade;
mod made;
mod record;
mod to_pgn;
mod yaml;

use crate::board::Line;
use crate::tree::Tree;
use jiff::civil::Date;

pub use builtin::{builtin, starters};
pub use epd::write as write_epd;
pub use error::DrillError;
pub use file::load_file;
pub use grade::Grade;
pub use to_pgn::write as write_pgn;
pub use yaml::{FILE_MAX, load, with_grades, write};

/// What the player is to reach.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Task {
    Win,
    Draw,
    /// Find the best move, whatever it reaches.
    Move,
}

/// One position to calculate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drill {
    /// Unique, kebab-case.
    pub id: String,
    pub title: String,
    /// The position, without a past.
    pub root: Line,
    pub task: Task,
    /// Thinking time in minutes, 1 to 120.
    pub minutes: u32,
    /// Author or players, work, year.
    pub source: String,
    pub themes: Vec<String>,
    /// The published solution as a tree; shown only after the commit.
    pub solution: Tree,
    /// How difficult it is; shown only after the commit.
    pub grade: Option<Grade>,
    /// What shows that the position is worth what it is said to be, where that is known.
    pub known_by: Option<Proof>,
    /// Where the published solution has a hole, or the judge disagrees. For people: no program reads it.
    pub note: Option<String>,
}

/// What shows that a position is worth what it is said to be: `table` or `search` in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Proof {
    /// An endgame table: certain.
    Table,
    /// A deep search of the engine: an opinion, if a firm one.
    Search,
}

impl Proof {
    /// As the list of the ladder says it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Table => tr!("known by table"),
            Self::Search => tr!("known by deep search"),
        }
    }
}

/// With this begins the identifier of every drill of an own game; date, game and move follow
/// (`own-20260214-3f9a1c-17w`). No other drill may be called so.
const OWN_GAME: &str = "own-";

/// The identifier of a drill of an own game: `game` is the game's own identifier, which begins with its date, `number`
/// the number of the move.
#[must_use]
pub fn own_game_id(game: &str, number: usize, white: bool) -> String {
    format!("{OWN_GAME}{game}-{number}{}", if white { "w" } else { "b" })
}

/// As [`Drill::is_of_own_game`], by the identifier of a drill that may be gone.
#[must_use]
pub fn is_of_own_game(id: &str) -> bool {
    id.starts_with(OWN_GAME)
}

impl Drill {
    /// True for a position that is shipped to be played out: its themes name a step of the ladder.
    #[must_use]
    pub fn is_of_the_ladder(&self) -> bool {
        self.themes.iter().any(|t| t.starts_with("ladder-"))
    }

    /// True for a position of one of the player's own games.
    #[must_use]
    pub fn is_of_own_game(&self) -> bool {
        is_of_own_game(&self.id)
    }

    /// When the own game was played that it comes from; `None` for other drills, and for games without a
    /// date.
    #[must_use]
    pub fn game_date(&self) -> Option<Date> {
        let digits = self.id.strip_prefix(OWN_GAME)?.get(..8)?;
        Date::strptime("%Y%m%d", digits).ok()
    }
}

#[cfg(test)]
mod collection_tests;
#[cfg(test)]
mod tests;
