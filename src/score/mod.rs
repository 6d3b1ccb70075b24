//! Expected scores, told apart by whose they are.
//!
//! In comes a number, an engine's centipawns or its win, draw and loss; out come values that cannot be
//! mixed up: [`MoverScore`] is what the side to move can expect, [`PlayerScore`] what the player at the
//! root of a written tree can, and [`ScoreDiff`] is the difference of two scores of one side. Only
//! [`MoverScore::for_player`] leads from the first to the second, since only who asks knows both sides.
//! All of them are written to files as the bare number.
//!
//! This room must never know a judge, a tree or a finding, nor a threshold: what a difference means is
//! decided by those who compare.

mod difference;
mod mover;
mod player;

use std::fmt;

use crate::text;

pub use difference::ScoreDiff;
pub use mover::MoverScore;
pub use player::PlayerScore;

/// What is outside 0 to 1 is brought to the nearest bound, what is no number to the middle.
const fn within_bounds(value: f64) -> f64 {
    if value.is_nan() {
        0.5
    } else {
        value.clamp(0.0, 1.0)
    }
}

/// As in the literature on expected scores: two decimals, no leading zero (`.73`), `1` and `0` bare.
fn write_score(value: f64, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match (value * 100.0).round() as u32 {
        100 => f.write_str("1"),
        0 => f.write_str("0"),
        percent => f.write_str(&text::share(f64::from(percent) / 100.0, 2)),
    }
}
