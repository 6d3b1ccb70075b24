//! What became of his advantages.

use std::collections::BTreeMap;

use serde::Serialize;

use super::height;
use super::survey::{Ply, Surveyed};
use crate::board::phase;

/// The heights that are told, as expected scores: clearly better, winning, won.
pub const HEIGHTS: [f64; 3] = [0.70, 0.85, 0.95];

/// How he fared from one height of advantage on, in the games with a result.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Height {
    /// Expected score that he reached.
    pub from: f64,
    pub games: usize,
    /// Points of those games.
    pub points: f64,
    /// Of the games that were not won: where it went.
    pub slips: Vec<Slip>,
    /// The same by months, the oldest first; games without a month are left out.
    pub months: Vec<Month>,
}

/// The move of a game that gave away the most after he stood so well.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Slip {
    /// The game by its place, and by its identifier.
    #[serde(skip)]
    pub game: usize,
    pub id: String,
    pub ply: usize,
    /// Expected score before the move, and what the move lost of it.
    pub before: f64,
    pub lost: f64,
    pub phase: &'static str,
    /// His clock before the move in milliseconds, and whether that was time trouble.
    pub left_ms: Option<u64>,
    pub trouble: bool,
}

/// The games of a month.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Month {
    /// `2026.02`.
    pub month: String,
    pub games: usize,
    pub points: f64,
}

/// Of the games with a result in which he stood at .70, .85, .95: the points he took, and where it went.
#[must_use]
pub fn conversion(games: &[Surveyed]) -> Vec<Height> {
    HEIGHTS
        .iter()
        .map(|from| from_height(games, *from))
        .collect()
}

fn from_height(games: &[Surveyed], from: f64) -> Height {
    let mut height = Height {
        from,
        games: 0,
        points: 0.0,
        slips: Vec::new(),
        months: Vec::new(),
    };
    let mut months: BTreeMap<String, (usize, f64)> = BTreeMap::new();
    for (at, surveyed) in games.iter().enumerate() {
        let first = height::first_from(surveyed, from);
        let (Some(first), Some(points)) = (first, surveyed.game.points()) else {
            continue;
        };
        height.games += 1;
        height.points += points;
        if let Some(month) = month(surveyed.game.date()) {
            let entry = months.entry(month).or_default();
            *entry = (entry.0 + 1, entry.1 + points);
        }
        if points < 1.0 {
            height.slips.extend(slip(surveyed, at, first));
        }
    }
    let months = months.into_iter();
    height.months = months
        .map(|(month, (games, points))| Month {
            month,
            games,
            points,
        })
        .collect();
    height
}

/// `2026.02` of `2026.02.14`; `None` where the date leaves it open.
fn month(date: &str) -> Option<String> {
    let month = date.get(..7).filter(|m| !m.contains('?'))?;
    Some(month.to_owned())
}

fn slip(surveyed: &Surveyed, game: usize, first: usize) -> Option<Slip> {
    let own = (first..surveyed.plies.len()).filter(|p| surveyed.game.is_his(*p));
    let drop = |p: usize| surveyed.plies.get(p).map_or(0.0, Ply::drop);
    let ply = own.max_by(|a, b| drop(*a).total_cmp(&drop(*b)))?;
    let times = &surveyed.game.times;
    let left_ms = times.before(ply);
    Some(Slip {
        game,
        id: surveyed.game.id.clone(),
        ply,
        before: surveyed.plies.get(ply)?.before,
        lost: drop(ply),
        phase: phase::of(surveyed.game.line_to(ply).position()).word(),
        left_ms,
        trouble: left_ms
            .zip(times.trouble_ms())
            .is_some_and(|(left, limit)| left < limit),
    })
}
