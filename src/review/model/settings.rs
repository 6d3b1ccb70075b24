//! What a caller may set of a review.

use super::thresholds;
use crate::score::{PlayerScore, ScoreDiff};

/// The thresholds of a review, in expected score (0 to 1), and its budget.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// Two moves differ when their expected scores do by this much. Default .10.
    pub delta: ScoreDiff,
    /// Two moves are equally good when their expected scores differ by at most this. Default .03.
    pub equal: ScoreDiff,
    /// A position is decided when both expected scores are at least this, or at most 1 - this.
    /// Default .90.
    pub decided: PlayerScore,
    /// Nodes per search. Default 200,000.
    pub nodes: u64,
    /// How many times `nodes` a finding is confirmed with. Default 4.
    pub confirm: u64,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            delta: thresholds::DELTA,
            equal: thresholds::EQUAL,
            decided: thresholds::DECIDED,
            nodes: thresholds::NODES,
            confirm: thresholds::CONFIRM,
        }
    }
}
