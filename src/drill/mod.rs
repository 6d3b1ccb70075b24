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
//!   note: what the published solution overlooks, where it does   # may be left out
//! ```
//!
//! Lenient: a byte order mark; line ends of Unix and Windows; comments; move numbers in `lines`; moves
//! as [`crate::notation`] reads them. Unknown fields are errors.

mod builtin;
mod check;
mod error;
mod file;
mod record;
mod yaml;

use crate::board::Line;
use crate::tree::Tree;

pub use builtin::builtin;
pub use error::DrillError;
pub use file::load_file;
pub use yaml::{FILE_MAX, load, write};

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
    /// Where the published solution has a hole, or the judge disagrees.
    pub note: Option<String>,
}

#[cfg(test)]
mod tests;
