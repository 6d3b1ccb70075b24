//! The difference of two expected scores of one side.

use std::cmp::Ordering;
use std::fmt;
use std::ops::{Add, Sub};

/// How much one expected score is above another: -1 to 1. Also what a threshold for such a difference is.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    PartialOrd,
    Default,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(transparent)]
pub struct ScoreDiff(f64);

impl ScoreDiff {
    pub const ZERO: Self = Self(0.0);

    #[must_use]
    pub const fn new(value: f64) -> Self {
        Self(value)
    }

    #[must_use]
    pub const fn value(self) -> f64 {
        self.0
    }

    /// Without regard to which of the two was more.
    #[must_use]
    pub fn abs(self) -> Self {
        Self(self.0.abs())
    }

    #[must_use]
    pub fn half(self) -> Self {
        Self(self.0 / 2.0)
    }

    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self(self.0 * factor)
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

impl Add for ScoreDiff {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for ScoreDiff {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl fmt::Display for ScoreDiff {
    /// As the bare number, with the number of decimals that is asked for.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}
