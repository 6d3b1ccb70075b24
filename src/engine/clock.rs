//! How long to think with a clock running. The shares are common practice, no source.

use std::time::Duration;

use super::protocol::Go;
use super::types::Colour;

/// Time kept back for sending the answer.
const OVERHEAD: Duration = Duration::from_millis(8);
/// Moves the remaining time is thought to be for, when no number is given.
const MOVES_AHEAD: u64 = 26;

/// Soft limit (start no new iteration) and hard limit (stop at once) for the side to move.
pub fn budget(go: &Go, side: Colour) -> (Option<Duration>, Option<Duration>) {
    if let Some(time) = go.move_time {
        return (
            None,
            Some(time.saturating_sub(OVERHEAD).max(Duration::from_millis(1))),
        );
    }
    let Some(left) = go.clock[side & 1] else {
        return (None, None);
    };
    let left = left.saturating_sub(OVERHEAD);
    let moves = go.moves_to_go.unwrap_or(MOVES_AHEAD).clamp(1, 40);
    let share = left / (moves as u32 + 1) + go.increment[side & 1].mul_f64(0.7);
    let most = left.mul_f64(if moves == 1 { 0.9 } else { 0.6 });
    (
        Some(share.mul_f64(0.6).min(most)),
        Some((share * 3).min(most).max(Duration::from_millis(1))),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn never_more_than_what_is_left() {
        for ms in [0, 1, 9, 100, 60_000] {
            let go = Go {
                clock: [Some(Duration::from_millis(ms)), None],
                ..Go::default()
            };
            let (soft, hard) = budget(&go, 0);
            assert!(soft.unwrap() <= hard.unwrap());
            assert!(hard.unwrap() <= Duration::from_millis(ms.max(1)));
        }
    }
}
