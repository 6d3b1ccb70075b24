//! Quick calculation: positions of equal depth and difficulty under a clock that follows the player.
//!
//! Takes the tries he has made (of the log alone); gives the clock of the next one ([`next_clock_ms`]), at which clock he
//! solves three of four ([`threshold`]), and what speed costs him ([`report`]). A try is a sitting as every other, with one
//! rule more: when the clock is over no line is written any more.
//!
//! # The rule of the clock
//! After a position that was solved the clock becomes shorter by one step, after one that was not it becomes longer by three: so
//! it settles where three of four are solved (C. Kaernbach, Simple adaptive testing with the weighted up-down method,
//! Perception & Psychophysics 49, 1991; from memory). The transformed rules of H. Levitt (Transformed up-down methods in
//! psychoacoustics, Journal of the Acoustical Society of America 49, 1971) settle at 71 or 79 %, never at 75, and use the answer
//! of one try only once two or three are together. A step is a sixth of an octave, since a player who needs half of the time is as far
//! ahead at two minutes as at twenty seconds. Up to the first position that he does not solve the steps are three times as long, so
//! that the place is soon found. Where the clock is after a try depends on the tries alone: nothing is drawn.
//!
//! A Bayesian rule would come near the place in fewer tries, and stay there: it takes the player for one who does not change,
//! while this one follows him over months. So the clock follows the rule of steps, and only what is told of it is Bayesian.
//!
//! # Never
//! No race against others, no points, no streaks. What the ladder is of is told afterwards: how deep a position is would be a hint.

mod report;
mod threshold;

use std::ops::RangeInclusive;

pub use report::{Ladder, Quick, QuickGiven, QuickWeek, SPEED_MIN, SpeedError, quick};
pub use threshold::{TRIES_MIN, Threshold, threshold};

/// Positions of equal depth and difficulty, by their published solutions.
#[derive(Debug, Clone)]
pub struct LadderKind {
    /// From 1 on; kept with each try, so that it never means another ladder.
    pub number: u8,
    /// Half-moves up to the solver's last move.
    pub needed: RangeInclusive<usize>,
    /// Grades of difficulty.
    pub grades: RangeInclusive<u8>,
}

/// All ladders, the easiest first. The bounds are ours: as narrow as the collection allows with some fifty positions each.
pub const LADDERS: [LadderKind; 4] = [
    ladder(1, 3..=3, 1..=2),
    ladder(2, 5..=5, 2..=3),
    ladder(3, 7..=7, 3..=4),
    ladder(4, 11..=13, 5..=5),
];

const fn ladder(
    number: u8,
    needed: RangeInclusive<usize>,
    grades: RangeInclusive<u8>,
) -> LadderKind {
    LadderKind {
        number,
        needed,
        grades,
    }
}

impl LadderKind {
    /// The ladder of that number.
    #[must_use]
    pub fn of(number: u8) -> Option<&'static Self> {
        LADDERS.iter().find(|l| l.number == number)
    }

    /// Whether a position of that depth and grade belongs to it.
    #[must_use]
    pub fn holds(&self, needed: usize, grade: u8) -> bool {
        self.needed.contains(&needed) && self.grades.contains(&grade)
    }
}

/// One try, as its attempt and its review have it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Try {
    pub ladder: u8,
    /// Wall-clock time of opening, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    /// The clock that was set, and the time until the lock, in milliseconds.
    pub clock_ms: u64,
    pub used_ms: u64,
    pub solved: bool,
    /// Half-moves of the solution that were sound, and that were needed.
    pub sound: u16,
    pub needed: u16,
}

/// The shortest clock, in which a line can still be typed, and the longest, in milliseconds.
pub const CLOCK_MIN_MS: u64 = 10_000;
pub const CLOCK_MAX_MS: u64 = 30 * 60_000;
/// A step in octaves of the clock.
pub const STEP: f64 = 1.0 / 6.0;
/// Three steps up for one down: three of four.
pub const UP: f64 = 3.0;
/// Up to the first that is not solved the steps down are so much longer.
pub const FIRST: f64 = 3.0;
/// Sittings without a hurry from which the first clock is taken; below that it is the drills' own time.
pub const SITTINGS_MIN: usize = 4;

/// The clock of the next try on a ladder: `first_ms` before any, then one step from that of the last. Tries that are not reviewed yet are
/// not among `tries`; the clock waits for them.
#[must_use]
pub fn next_clock_ms(tries: &[Try], first_ms: u64) -> u64 {
    let Some(last) = tries.last() else {
        return bounded(first_ms as f64);
    };
    let all_solved = tries.iter().all(|t| t.solved);
    let octaves = match (last.solved, all_solved) {
        (true, true) => -STEP * FIRST,
        (true, false) => -STEP,
        (false, _) => STEP * UP,
    };
    bounded(last.clock_ms as f64 * octaves.exp2())
}

/// To whole seconds, within the bounds.
fn bounded(ms: f64) -> u64 {
    let seconds = (ms / 1000.0).round() as u64;
    (seconds * 1000).clamp(CLOCK_MIN_MS, CLOCK_MAX_MS)
}

/// Where he succeeds in three of four, from sittings without a hurry at the same depth and grade: the time within which he had solved
/// three of four of them. `own_ms`, the drills' own time, where they are too few or he solved fewer.
#[must_use]
pub fn first_clock_ms(sittings: &[(u64, bool)], own_ms: u64) -> u64 {
    let mut solved: Vec<u64> = sittings.iter().filter(|s| s.1).map(|s| s.0).collect();
    solved.sort_unstable();
    let three_of_four = (3 * sittings.len()).div_ceil(4);
    let place = three_of_four
        .checked_sub(1)
        .filter(|_| sittings.len() >= SITTINGS_MIN);
    let found = place.and_then(|at| solved.get(at)).copied();
    bounded(found.unwrap_or(own_ms) as f64)
}

#[cfg(test)]
mod tests;
