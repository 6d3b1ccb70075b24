//! The turning points of a judged game, of both sides.

use serde::Serialize;

use crate::games::moment;
use crate::games::survey::{Ply, Settings, Surveyed};

/// Errors so near to each other are one turning point, in half-moves; and so near a moment recognises one.
pub const NEAR: usize = 2;

/// Where the game turned.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct TurningPoint {
    /// The half-moves that gave something away, in their order.
    pub plies: Vec<usize>,
    /// That of them which gave the most.
    pub ply: usize,
    /// The player's expected score before the first and after the last of them.
    pub before: f64,
    pub after: f64,
}

/// What the mover gave away with a half-move, whoever he is; never negative.
#[must_use]
pub fn given(ply: &Ply, his: bool) -> f64 {
    let lost = ply.before - ply.after;
    if his { lost } else { -lost }.max(0.0)
}

/// The turning points, in the order of the game.
#[must_use]
pub fn turning_points(surveyed: &Surveyed, settings: &Settings) -> Vec<TurningPoint> {
    let mut found: Vec<TurningPoint> = Vec::new();
    let mut most = 0.0;
    for (at, ply) in surveyed.plies.iter().enumerate() {
        let lost = given(ply, surveyed.game.is_his(at));
        if lost < settings.delta || moment::is_decided(ply) {
            continue;
        }
        let last = found.last_mut();
        let near = last.filter(|t| t.plies.last().is_some_and(|l| at - l <= NEAR));
        match near {
            Some(point) => {
                point.plies.push(at);
                point.after = ply.after;
                if lost > most {
                    (point.ply, most) = (at, lost);
                }
            }
            None => {
                most = lost;
                found.push(TurningPoint {
                    plies: vec![at],
                    ply: at,
                    before: ply.before,
                    after: ply.after,
                });
            }
        }
    }
    found
}

/// The half-moves of the opponent whose scores decide about a turning point, so that they are asked again.
#[must_use]
pub fn doubtful_gifts(surveyed: &Surveyed, settings: &Settings) -> Vec<usize> {
    let near = settings.delta * 0.75;
    let plies = surveyed.plies.iter().enumerate();
    plies
        .filter(|(at, ply)| {
            let his = surveyed.game.is_his(*at);
            !his && ply.legal > 1 && given(ply, false) >= near && !moment::is_decided(ply)
        })
        .map(|(at, _)| at)
        .collect()
}

impl TurningPoint {
    /// Half-moves from a place in the game to the nearest of its own.
    #[must_use]
    pub fn distance(&self, ply: usize) -> usize {
        let distances = self.plies.iter().map(|p| p.abs_diff(ply));
        distances.min().unwrap_or(usize::MAX)
    }

    /// True where the player gained by it.
    #[must_use]
    pub fn is_gain(&self) -> bool {
        self.after > self.before
    }
}
