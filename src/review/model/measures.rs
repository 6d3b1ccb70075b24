//! Figures of one tree: what it was worth, how deep, how complete and how well aimed it was.

use serde::Serialize;

use crate::score::PlayerScore;

/// Expected scores of the player at the root.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Expected {
    /// With the best move.
    pub best: PlayerScore,
    /// With the chosen move; `None` where nothing judgeable was chosen.
    pub choice: Option<PlayerScore>,
}

/// How far the calculation had to go, went, and held. All in half-moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, schemars::JsonSchema)]
pub struct Depth {
    /// Until the position under the choice is settled.
    pub needed: usize,
    /// Under the choice, along its best written replies.
    pub reached: usize,
    /// The longest written line anywhere.
    pub longest: usize,
    /// Of the choice's main line before the first finding.
    pub sound: usize,
}

/// How much of what a sound calculation contains was written.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Coverage {
    /// Weighted share, 0 to 1.
    pub share: f64,
    pub written: usize,
    pub of: usize,
}

/// How much of what was written matters.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Focus {
    /// 0 to 1.
    pub share: f64,
    pub written: usize,
    pub of: usize,
}

/// How the player went about it, from the times of his entries. Entry times are typing times.
#[derive(Debug, Clone, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Process {
    pub first_candidate_ms: Option<u64>,
    pub first_reply_ms: Option<u64>,
    /// Candidates written before the first line went deeper than one half-move.
    pub candidates_before_depth: usize,
    /// Time per candidate in the order of writing: SAN, milliseconds.
    pub per_candidate: Vec<(String, u64)>,
    /// How often he came back to a candidate he had left (A. Kotov, Think Like a Grandmaster, 1971,
    /// wants none; A. de Groot, Het denken van den schaker, 1946, found that experts do: reported, not
    /// judged).
    pub returns: usize,
    pub half_moves: usize,
    pub spent_ms: u64,
    /// Time over the budget; 0 where there was none.
    pub over_ms: u64,
}
