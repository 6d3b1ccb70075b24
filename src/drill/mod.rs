//! Drills: positions to calculate, with their published solution.
//!
//! Takes YAML text; gives [`Drill`]s whose position and solution are known to be legal. This is the
//! only room that knows the YAML library.

mod builtin;
mod yaml;

use crate::board::Line;
use crate::tree::Tree;

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
