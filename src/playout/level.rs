//! How strong the opponent is.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A level, 1 (a beginner) to 10 (all the engine has).
///
/// Three things make a weaker opponent, each by itself known to lower playing strength (common
/// practice, no source): fewer nodes, an error in its judgement of each move, and contentment with
/// moves that are only nearly the best.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, schemars::JsonSchema,
)]
#[serde(try_from = "u8", into = "u8")]
pub struct Level(u8);

/// Not a level.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", tr!("a level is a number from 1 (beginner) to 10 (full strength), not {0}", _0))]
pub struct LevelError(pub u8);

/// Nodes a search, spread of the error in judgement, and margin (both in expected score).
const TABLE: [(u64, f64, f64); 10] = [
    (40, 0.30, 0.20),
    (100, 0.22, 0.15),
    (300, 0.16, 0.12),
    (800, 0.12, 0.10),
    (2_000, 0.08, 0.08),
    (5_000, 0.05, 0.06),
    (12_000, 0.03, 0.05),
    (30_000, 0.015, 0.04),
    (80_000, 0.0, 0.03),
    (200_000, 0.0, 0.03),
];

impl Level {
    pub const FULL: Self = Self(10);

    /// Nodes a search.
    #[must_use]
    pub fn nodes(self) -> u64 {
        self.row().0
    }

    /// Spread of the error in its judgement of a move: the error is at most this, either way.
    #[must_use]
    pub fn spread(self) -> f64 {
        self.row().1
    }

    /// How much less than the best a move may be worth and still be played.
    #[must_use]
    pub fn margin(self) -> f64 {
        self.row().2
    }

    fn row(self) -> (u64, f64, f64) {
        let [.., full] = TABLE;
        let at = usize::from(self.0).saturating_sub(1);
        TABLE.get(at).copied().unwrap_or(full)
    }
}

impl TryFrom<u8> for Level {
    type Error = LevelError;

    fn try_from(number: u8) -> Result<Self, LevelError> {
        (1..=10)
            .contains(&number)
            .then_some(Self(number))
            .ok_or(LevelError(number))
    }
}

impl From<Level> for u8 {
    fn from(level: Level) -> Self {
        level.0
    }
}

impl fmt::Display for Level {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}
