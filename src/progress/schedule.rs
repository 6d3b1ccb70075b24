//! When a failed position comes back: the one file that knows the repetition library.
//!
//! The library implements FSRS, the Free Spaced Repetition Scheduler (J. Ye, J. Su and Y. Cao, A
//! stochastic shortest path algorithm for optimizing spaced repetition scheduling, KDD 2022; its
//! version 6 with the published default parameters). State is never stored: it is folded from the
//! attempts at a position, so `now` is an argument and a damaged schedule cannot exist.
//!
//! A position enters when it is failed for the first time. *Failed* counts as the library's 'again', a
//! choice that held with something counted against the tree as 'hard', solved as 'good'; 'easy' is never
//! given, since a solved calculation cannot be told from a remembered one.
//!
//! Known limits: the parameters were fitted to vocabulary, not to positions; they are a start, not a
//! truth. A position is bigger than a card: what is remembered may be the move and not the calculation,
//! which is why nothing comes back before [`REST_DAYS`].

use fsrs::{FSRS, MemoryState};

use super::record::Outcome;

/// A day in milliseconds. Intervals are spans of time, not dates: daylight saving changes nothing.
pub const DAY_MS: i64 = 86_400_000;
/// Nothing comes back sooner.
pub const REST_DAYS: i64 = 2;
/// A moment of an own game is not shown before so many days after the game.
pub const GAME_DAYS: i64 = 14;
/// Probability of remembering at which a position comes back (the library's default).
pub const RETENTION: f32 = 0.9;
/// No interval is longer: ten years.
const DAYS_MAX: f32 = 3650.0;

/// When a position comes back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Return {
    /// Milliseconds since 1970-01-01 UTC.
    pub at_ms: i64,
    /// When it was failed last.
    pub failed_ms: i64,
}

/// The return of a position after these attempts, in the order in which they were made: time, and what
/// came of it. `None` where it was never failed.
#[must_use]
pub fn due(attempts: &[(i64, Outcome)]) -> Option<Return> {
    let fsrs = FSRS::default();
    let mut state: Option<(MemoryState, f32)> = None;
    let (mut last, mut failed) = (0, None);
    for (at, outcome) in attempts {
        if *outcome == Outcome::Failed {
            failed = Some(*at);
        }
        if failed.is_none() {
            continue;
        }
        // A clock that was set back makes no time pass.
        let days = state.map_or(0, |_| at.saturating_sub(last).max(0) / DAY_MS);
        let days = u32::try_from(days).unwrap_or(u32::MAX);
        state = step(&fsrs, state.map(|s| s.0), days, *outcome).or(state);
        last = *at;
    }
    let days = state.map_or(0.0, |(_, days)| days.min(DAYS_MAX));
    let wait = (f64::from(days) * DAY_MS as f64) as i64;
    failed.map(|failed_ms| Return {
        at_ms: last.saturating_add(wait.max(REST_DAYS * DAY_MS)),
        failed_ms,
    })
}

/// The library refuses only numbers that are none; the state before then stays.
fn step(
    fsrs: &FSRS,
    state: Option<MemoryState>,
    days: u32,
    outcome: Outcome,
) -> Option<(MemoryState, f32)> {
    let next = fsrs.next_states(state, RETENTION, days).ok()?;
    let item = match outcome {
        Outcome::Failed => next.again,
        Outcome::Partly => next.hard,
        Outcome::Solved => next.good,
    };
    Some((item.memory, item.interval))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn days(attempts: &[(i64, Outcome)]) -> Option<i64> {
        let attempts: Vec<_> = attempts.iter().map(|(d, o)| (d * DAY_MS, *o)).collect();
        due(&attempts).map(|r| r.at_ms / DAY_MS)
    }

    #[test]
    fn what_was_never_failed_does_not_come_back() {
        assert_eq!(days(&[]), None);
        assert_eq!(days(&[(0, Outcome::Solved), (9, Outcome::Partly)]), None);
    }

    #[test]
    fn never_sooner_than_two_days() {
        assert_eq!(days(&[(10, Outcome::Failed)]), Some(12));
        assert_eq!(
            days(&[(10, Outcome::Failed), (12, Outcome::Failed)]),
            Some(14)
        );
    }

    #[test]
    fn solved_again_it_waits_longer_each_time() {
        let mut attempts = vec![(0, Outcome::Failed)];
        let mut waits = Vec::new();
        for _ in 0..5 {
            let next = days(&attempts).unwrap();
            waits.push(next - attempts[attempts.len() - 1].0);
            attempts.push((next, Outcome::Solved));
        }
        assert!(waits.windows(2).all(|w| w[0] <= w[1]), "{waits:?}");
        assert!(waits[4] > 10, "{waits:?}");
    }

    #[test]
    fn a_clock_set_back_is_no_harm() {
        let due = due(&[
            (50 * DAY_MS, Outcome::Failed),
            (20 * DAY_MS, Outcome::Solved),
        ])
        .unwrap();
        assert!(due.at_ms >= 22 * DAY_MS);
        let extreme = super::due(&[(i64::MIN / 4, Outcome::Failed), (i64::MAX, Outcome::Solved)]);
        assert!(extreme.is_some());
    }

    /// The library's published test vectors (fsrs 6, tests of its inference: default parameters of
    /// version 6, again then good after 0, 1, 3, 8 and 21 days): what is linked is what was meant.
    #[test]
    fn the_published_vectors() {
        let fsrs = FSRS::default();
        let mut state = None;
        for (rating, days) in [(1, 0), (3, 0), (3, 1), (3, 3), (3, 8), (3, 21)] {
            let next = fsrs.next_states(state, 0.9, days).unwrap();
            state = Some(if rating == 1 {
                next.again.memory
            } else {
                next.good.memory
            });
        }
        let state = state.unwrap();
        assert!((state.stability - 53.626_91).abs() < 1e-3, "{state:?}");
        assert!((state.difficulty - 6.357_486_7).abs() < 1e-3, "{state:?}");
    }
}
