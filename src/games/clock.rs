//! Where his time went, and what he got for it.

use serde::Serialize;
use shakmaty::Position;

use super::moment::{ADVANTAGE, Habits, is_recapture};
use super::survey::{Settings, Surveyed};
use crate::board::phase::{self, Phase};

/// Thinks of one kind.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Thinks {
    pub moves: usize,
    pub seconds: f64,
    /// Expected score given away, in sum.
    pub lost: f64,
}

impl Thinks {
    fn add(&mut self, ms: u64, lost: f64) {
        self.moves += 1;
        self.seconds += ms as f64 / 1000.0;
        self.lost += lost;
    }

    /// Seconds a move; 0 without one.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.seconds / (self.moves.max(1) as f64)
    }

    /// Expected score given away a move.
    #[must_use]
    pub fn lost_a_move(&self) -> f64 {
        self.lost / (self.moves.max(1) as f64)
    }
}

/// The times of all games. Moves without a time are left out.
#[derive(Debug, Clone, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Clock {
    /// Games with and without times.
    pub games: usize,
    pub without: usize,
    pub all: Thinks,
    pub phases: Vec<(&'static str, Thinks)>,
    pub standings: Vec<(&'static str, Thinks)>,
    /// Moves where delta or more hung on the choice among the plausible moves, and where less than
    /// delta / 4 did. Moves without a choice and recaptures are in neither.
    pub high_stakes: Thinks,
    pub small_stakes: Thinks,
    /// Of the high ones, those made within his fastest fifth.
    pub fast_and_high: Thinks,
    /// Moves in time trouble (see [`super::Times::trouble_ms`]), and all others.
    pub trouble: Thinks,
    pub no_trouble: Thinks,
    /// Games with time trouble, and the move number at which it began on average.
    pub trouble_games: usize,
    pub trouble_from: Option<f64>,
    /// His thinks in five parts of the same number, from the fastest to the longest.
    pub fifths: Vec<Thinks>,
}

/// The times of judged games.
#[must_use]
pub fn clock(games: &[Surveyed], habits: &Habits, settings: &Settings) -> Clock {
    let mut clock = Clock {
        phases: [tr!("opening"), tr!("middlegame"), tr!("ending")]
            .map(|p| (p, Thinks::default()))
            .into(),
        standings: [
            tr!("better (.70 and more)"),
            tr!("in between"),
            tr!("worse (.30 and less)"),
        ]
        .map(|s| (s, Thinks::default()))
        .into(),
        ..Clock::default()
    };
    let mut thinks: Vec<(u64, f64)> = Vec::new();
    let mut began = Vec::new();
    for surveyed in games {
        if surveyed.game.times.is_empty() {
            clock.without += 1;
            continue;
        }
        clock.games += 1;
        began.extend(one_game(
            surveyed,
            habits,
            settings,
            &mut clock,
            &mut thinks,
        ));
    }
    clock.trouble_games = began.len();
    clock.trouble_from =
        (!began.is_empty()).then(|| began.iter().sum::<usize>() as f64 / began.len() as f64);
    thinks.sort_by_key(|t| t.0);
    let size = thinks.len().div_ceil(5).max(1);
    clock.fifths = thinks
        .chunks(size)
        .map(|part| {
            let mut fifth = Thinks::default();
            part.iter().for_each(|(ms, lost)| fifth.add(*ms, *lost));
            fifth
        })
        .collect();
    clock
}

/// Counts one game; gives the number of the move at which time trouble began.
fn one_game(
    surveyed: &Surveyed,
    habits: &Habits,
    settings: &Settings,
    clock: &mut Clock,
    thinks: &mut Vec<(u64, f64)>,
) -> Option<usize> {
    let times = &surveyed.game.times;
    let limit = times.trouble_ms();
    let mut pos = surveyed.game.game.start.clone();
    let mut began = None;
    for (ply, mv) in surveyed.game.game.main_moves.iter().enumerate() {
        let here = pos.clone();
        pos.play_unchecked(mv);
        let (Some(ms), Some(scored)) = (times.spent(ply), surveyed.plies.get(ply)) else {
            continue;
        };
        if !surveyed.game.is_his(ply) {
            continue;
        }
        let lost = scored.drop();
        clock.all.add(ms, lost);
        let phase = match phase::of(&here) {
            Phase::Opening => 0,
            Phase::Middlegame => 1,
            Phase::Ending => 2,
        };
        let standing = match scored.before {
            e if e >= ADVANTAGE => 0,
            e if e > 1.0 - ADVANTAGE => 1,
            _ => 2,
        };
        let parts = [
            clock.phases.get_mut(phase),
            clock.standings.get_mut(standing),
        ];
        parts.into_iter().flatten().for_each(|p| p.1.add(ms, lost));
        let short = times
            .before(ply)
            .zip(limit)
            .is_some_and(|(left, limit)| left < limit);
        if short {
            began.get_or_insert(surveyed.game.number(ply));
            clock.trouble.add(ms, lost);
        } else {
            clock.no_trouble.add(ms, lost);
        }
        if scored.legal < 2 || is_recapture(surveyed, ply) || habits.is_book(surveyed, ply) {
            continue;
        }
        thinks.push((ms, lost));
        if scored.stakes() >= settings.delta {
            clock.high_stakes.add(ms, lost);
            if habits.short_ms.is_some_and(|fast| ms <= fast) {
                clock.fast_and_high.add(ms, lost);
            }
        } else if scored.stakes() < settings.delta / 4.0 {
            clock.small_stakes.add(ms, lost);
        }
    }
    began
}
