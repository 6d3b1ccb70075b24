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
//!   note: what the published solution overlooks, where it does   # may be left out
//! ```
//!
//! `lines: []` says that nothing was published: then the judge alone knows.
//!
//! Drills also come from EPD and from PGN games with a FEN tag ([`load_file`]).
//!
//! Lenient: a byte order mark; line ends of Unix and Windows; comments; move numbers in `lines`; moves
//! as [`crate::notation`] reads them. Unknown fields are errors.

mod builtin;
mod check;
mod epd;
mod error;
mod file;
mod from_pgn;
pub mod grade;
mod made;
mod record;
mod yaml;

use crate::board::Line;
use crate::tree::Tree;

pub use builtin::{builtin, starters};
pub use epd::write as write_epd;
pub use error::DrillError;
pub use file::load_file;
pub use grade::Grade;
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
    /// Where the published solution has a hole, or the judge disagrees.
    pub note: Option<String>,
}

/// What shows that a position of the ladder is worth what it is said to be. Notes use the same words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// An endgame table: certain.
    Table,
    /// A deep search of the engine: an opinion, if a firm one.
    Search,
}

impl Proof {
    /// As notes and the list of the ladder say it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Table => "known by table",
            Self::Search => "known by deep search",
        }
    }
}

#[cfg(test)]
mod collection_tests;
impl Drill {
    /// True for a position that is shipped to be played out: its themes name a step of the ladder.
    #[must_use]
    pub fn is_of_the_ladder(&self) -> bool {
        self.themes.iter().any(|t| t.starts_with("ladder-"))
    }

    /// By what a position of the ladder is known to be worth what it is; `None` where the note does not
    /// say so, as in other drills.
    #[must_use]
    pub fn proof(&self) -> Option<Proof> {
        let note = self.note.as_deref()?;
        let all = [Proof::Table, Proof::Search];
        all.into_iter().find(|p| note.contains(p.words()))
    }
}

#[cfg(test)]
mod tests;
