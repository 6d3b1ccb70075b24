//! The clock at which he solves three of four: a Bayesian reading of all tries of a time.
//!
//! The chance to solve a position in time `t` is taken to be logistic in the octaves of the clock,
//! `P(t) = 1 / (1 + exp(-s * (log2(t) - log2(T)) - ln 3))`, so that `P(T) = 3/4`. What is asked for is `T`; the slope `s` is not known
//! either and is summed over (L. L. Kontsevich and C. W. Tyler, Bayesian adaptive estimation of psychometric slope and threshold,
//! Vision Research 39, 1999, after A. B. Watson and D. G. Pelli, QUEST, Perception & Psychophysics 33, 1983; from memory). Before any try
//! every `T` from 5 seconds to an hour is as likely as every other by its logarithm, and so are the slopes .5, 1, 2 and 4 an octave. That the
//! clock was chosen by the tries before changes nothing in the likelihood of a try at that clock.
//!
//! Held by simulation (`tests/progress/quick.rs`) and against numpy (`tests/progress/statistics.rs`).

use serde::Serialize;

use super::Try;
use crate::progress::stats::Interval;

/// Octaves of a second: 5 seconds to an hour, sixteen places an octave.
const LEAST: f64 = 5.0;
const MOST: f64 = 3600.0;
const PLACES: f64 = 16.0;
/// Slopes an octave.
const SLOPES: [f64; 4] = [0.5, 1.0, 2.0, 4.0];
/// Tries below which nothing is said.
pub const TRIES_MIN: usize = 8;

/// The clock at which he solves three of four, in seconds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Threshold {
    /// The middle of what it may be.
    pub seconds: f64,
    /// It lies here with 95 %.
    pub interval: Interval,
    pub tries: usize,
}

/// What the tries say; `None` below [`TRIES_MIN`].
#[must_use]
pub fn threshold(tries: &[Try]) -> Option<Threshold> {
    if tries.len() < TRIES_MIN {
        return None;
    }
    let places = ((MOST / LEAST).log2() * PLACES).floor() as usize;
    let octaves: Vec<f64> = (0..=places)
        .map(|i| LEAST.log2() + i as f64 / PLACES)
        .collect();
    let told: Vec<(f64, bool)> = tries
        .iter()
        .map(|t| ((t.clock_ms.max(1) as f64 / 1000.0).log2(), t.solved))
        .collect();
    let likelihood = |at: f64, slope: f64| -> f64 {
        let one = |(clock, solved): &(f64, bool)| {
            let x = slope * (clock - at) + 3.0f64.ln();
            // The logarithm of a logistic function, without overflow at either end.
            -(if *solved { -x } else { x }).exp().ln_1p()
        };
        told.iter().map(one).sum()
    };
    let logs: Vec<f64> = octaves
        .iter()
        .flat_map(|at| SLOPES.map(|slope| likelihood(*at, slope)))
        .collect();
    let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = logs
        .chunks(SLOPES.len())
        .map(|of| of.iter().map(|l| (l - most).exp()).sum())
        .collect();
    let quantile = |share: f64| quantile(&octaves, &weights, share).exp2();
    Some(Threshold {
        seconds: quantile(0.5),
        interval: Interval {
            low: quantile(0.025),
            high: quantile(0.975),
        },
        tries: tries.len(),
    })
}

/// The first place at which so much of the weight is reached.
fn quantile(places: &[f64], weights: &[f64], share: f64) -> f64 {
    let bar = share * weights.iter().sum::<f64>();
    let mut sum = 0.0;
    for (place, weight) in places.iter().zip(weights) {
        sum += weight;
        if sum >= bar {
            return *place;
        }
    }
    places.last().copied().unwrap_or_default()
}
