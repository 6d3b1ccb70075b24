//! The clock of a sitting in words.

use crate::text;

/// The clock of a sitting: time left, time over, or time used where there is no limit.
#[must_use]
pub fn clock(left_ms: Option<i64>, used_ms: u64) -> String {
    match left_ms {
        // A clock that counts down shows the second that is running.
        Some(left @ 0..) => text::clock(left.unsigned_abs().div_ceil(1000) * 1000),
        Some(over) => tr!("+{} over", text::clock(over.unsigned_abs())),
        None => text::clock(used_ms),
    }
}

/// Where no line is written any more.
pub const TIME_OVER: &str = tr_later!("Your time is over: choose your move (F10) and lock.");

/// How long a note about the time stays, in milliseconds.
const NOTE_MS: i64 = 30_000;

/// One quiet line at half of the time, and at two minutes left.
#[must_use]
pub fn time_note(left_ms: Option<i64>, budget_ms: Option<u64>) -> Option<&'static str> {
    let (left, budget) = (left_ms?, i64::try_from(budget_ms?).ok()?);
    let within = |mark: i64| (mark - NOTE_MS..=mark).contains(&left);
    if left < 0 {
        Some(tr!("Your time is over. What you write still counts."))
    } else if within(120_000) && budget > 120_000 {
        Some(tr!("Two minutes are left."))
    } else if within(budget / 2) {
        Some(tr!("Half of your time is used."))
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_clock_speaks_at_half_and_at_two_minutes_only() {
        let at = |left: i64| time_note(Some(left * 1000), Some(480_000));
        assert_eq!(at(300), None);
        assert_eq!(at(240), Some("Half of your time is used."));
        assert_eq!(at(200), None);
        assert_eq!(at(120), Some("Two minutes are left."));
        assert_eq!(at(80), None);
        assert_eq!(
            at(-1),
            Some("Your time is over. What you write still counts.")
        );
        assert_eq!(time_note(None, None), None);
    }

    #[test]
    fn the_clock_counts_down_and_over() {
        assert_eq!(clock(Some(480_000), 0), "8:00");
        assert_eq!(clock(Some(479_999), 1), "8:00");
        assert_eq!(clock(Some(479_000), 1000), "7:59");
        assert_eq!(clock(Some(-13_000), 0), "+0:13 over");
        assert_eq!(clock(None, 61_000), "1:01");
    }
}
