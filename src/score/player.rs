//! The expected score of the player who wrote a tree.

use std::cmp::Ordering;
use std::fmt;
use std::ops::{Add, Sub};

use super::{ScoreDiff, within_bounds, write_score};

/// Expected score of the player at the root, whoever is to move: 0 (lost) to 1 (won), a draw being 0.5.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    PartialOrd,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(transparent)]
pub struct PlayerScore(f64);

impl PlayerScore {
    pub const LOST: Self = Self(0.0);
    pub const LEVEL: Self = Self(0.5);
    pub const WON: Self = Self(1.0);

    /// An expected score; what is outside 0 to 1, or not a number, is brought to the nearest bound
    /// (not a number to 0.5).
    #[must_use]
    pub const fn new(value: f64) -> Self {
        Self(within_bounds(value))
    }

    /// The number, 0 to 1.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.0
    }

    /// What the opponent can expect, on the same scale.
    #[must_use]
    pub fn of_opponent(self) -> Self {
        Self(1.0 - self.0)
    }

    #[must_use]
    pub fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }

    #[must_use]
    pub fn total_cmp(&self, other: &Self) -> Ordering {
        self.0.total_cmp(&other.0)
    }
}

impl Default for PlayerScore {
    /// Level: nothing is known.
    fn default() -> Self {
        Self::LEVEL
    }
}

impl Sub for PlayerScore {
    type Output = ScoreDiff;

    /// How much more this is than `other`; negative where it is less.
    fn sub(self, other: Self) -> ScoreDiff {
        ScoreDiff::new(self.0 - other.0)
    }
}

impl Add<ScoreDiff> for PlayerScore {
    type Output = Self;

    /// Never beyond won or lost.
    fn add(self, more: ScoreDiff) -> Self {
        Self::new(self.0 + more.value())
    }
}

impl Sub<ScoreDiff> for PlayerScore {
    type Output = Self;

    /// Never beyond won or lost.
    fn sub(self, less: ScoreDiff) -> Self {
        Self::new(self.0 - less.value())
    }
}

impl fmt::Display for PlayerScore {
    /// Two decimals: `.73`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_score(self.0, f)
    }
}
