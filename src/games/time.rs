//! Time controls and the time of each move.

use crate::tree::pgn::Game;

/// From such a budget on a game is long.
pub const LONG_GAME_MS: u64 = 3_600_000;
/// Time trouble in a long game, and in others as one part of the budget in so many.
pub const TROUBLE_MS: u64 = 300_000;
pub const TROUBLE_PART: u64 = 10;

/// One period of a time control.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Period {
    /// Moves after which the next period begins; `None` for the rest of the game.
    pub moves: Option<u32>,
    /// Milliseconds given at its beginning.
    pub time_ms: u64,
    /// Milliseconds added with each move.
    pub increment_ms: u64,
}

/// What the tag `TimeControl` says (PGN standard 1994, 9.6.1): periods in their order, `40/9000`,
/// `4500+60`, `300`, `*180` (an hourglass), several joined by `:`. Empty for `?`, `-` and what cannot be
/// read.
#[must_use]
pub fn periods(tag: &str) -> Vec<Period> {
    let read: Option<Vec<Period>> = tag.trim().split(':').map(period).collect();
    read.unwrap_or_default()
}

fn period(text: &str) -> Option<Period> {
    let text = text.trim().trim_start_matches('*');
    let (moves, time) = match text.split_once('/') {
        Some((moves, time)) => (Some(moves.trim().parse().ok()?), time),
        None => (None, text),
    };
    let (time, increment) = time.split_once('+').unwrap_or((time, "0"));
    let ms = |s: &str| s.trim().parse::<u64>().ok()?.checked_mul(1000);
    Some(Period {
        moves,
        time_ms: ms(time)?,
        increment_ms: ms(increment)?,
    })
}

/// The time of each half-move of a game's main line.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Times {
    /// What each side had when the game began, in milliseconds, where the file says it.
    pub budget_ms: Option<u64>,
    /// Milliseconds spent on each half-move.
    pub spent_ms: Vec<Option<u64>>,
    /// The mover's clock before each half-move, in milliseconds.
    pub before_ms: Vec<Option<u64>>,
    /// Increment a move, in milliseconds.
    pub increment_ms: u64,
}

impl Times {
    /// Reads the clocks of a game.
    ///
    /// Spent is the clock before, plus what the move added, minus the clock after (`[%clk]` stands after
    /// the move), unless the file gives it by itself (`[%emt]`). Without the tag `TimeControl` the
    /// increment is the largest rise of a clock in the game, and the first move's time is unknown
    /// (common practice, no source). A clock that rises by more than the control gives makes the time
    /// of that move unknown.
    #[must_use]
    pub fn of(game: &Game) -> Self {
        let moves = game.main.iter().map(|i| game.moves.get(*i));
        let clocks: Vec<Option<u64>> = moves.clone().map(|m| m?.clock_ms).collect();
        let elapsed: Vec<Option<u64>> = moves.map(|m| m?.elapsed_ms).collect();
        let control = periods(game.tag("TimeControl").unwrap_or_default());
        let budget_ms = control.first().map(|p| p.time_ms);
        let guessed = if control.is_empty() { rise(&clocks) } else { 0 };
        let mut times = Self {
            budget_ms,
            increment_ms: control.first().map_or(guessed, |p| p.increment_ms),
            ..Self::default()
        };
        for (ply, after) in clocks.iter().enumerate() {
            let before = match ply.checked_sub(2) {
                None => budget_ms,
                Some(earlier) => clocks.get(earlier).copied().flatten(),
            };
            let added = match control.is_empty() {
                true => guessed,
                false => added(&control, ply / 2 + 1),
            };
            let by_clock = before
                .zip(*after)
                .and_then(|(b, a)| (b + added).checked_sub(a));
            let spent = elapsed.get(ply).copied().flatten().or(by_clock);
            times.spent_ms.push(spent);
            times.before_ms.push(before);
        }
        times
    }

    /// Milliseconds spent on a half-move (0 is the first).
    #[must_use]
    pub fn spent(&self, ply: usize) -> Option<u64> {
        self.spent_ms.get(ply).copied().flatten()
    }

    /// The mover's clock before a half-move.
    #[must_use]
    pub fn before(&self, ply: usize) -> Option<u64> {
        self.before_ms.get(ply).copied().flatten()
    }

    /// True where no time of any move is known.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.spent_ms.iter().all(Option::is_none)
    }

    /// From which clock on the player is in time trouble, in milliseconds.
    ///
    /// Five minutes in a game of an hour or more: from there the Laws excuse him from keeping score
    /// (FIDE Laws of Chess 8.4, from memory; without an increment of 30 seconds). In shorter games a
    /// tenth of the time he began with (common practice, no source). `None` where neither is known.
    #[must_use]
    pub fn trouble_ms(&self) -> Option<u64> {
        let most = self.before_ms.iter().flatten().max();
        let budget = self.budget_ms.or(most.copied())?;
        Some(match budget {
            LONG_GAME_MS.. => TROUBLE_MS,
            short => short / TROUBLE_PART,
        })
    }
}

/// What the control adds with a move (1 is the first).
fn added(control: &[Period], number: usize) -> u64 {
    let mut played = 0;
    for (i, period) in control.iter().enumerate() {
        let end = period.moves.map(|m| played + m as usize);
        match end {
            Some(end) if number > end && i + 1 < control.len() => played = end,
            Some(end) if number == end => {
                let next = control.get(i + 1).map_or(0, |p| p.time_ms);
                return period.increment_ms + next;
            }
            _ => return period.increment_ms,
        }
    }
    0
}

/// The largest rise of a side's clock from one of its moves to the next.
fn rise(clocks: &[Option<u64>]) -> u64 {
    let pairs = clocks.iter().zip(clocks.iter().skip(2));
    let rises = pairs.filter_map(|(a, b)| b.zip(*a).map(|(b, a)| b.saturating_sub(a)));
    rises.max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tree::pgn;

    fn times(text: &str) -> Times {
        Times::of(&pgn::games(text).next().unwrap().unwrap())
    }

    /// The forms that the standard gives as its own examples (9.6.1, from memory).
    #[test]
    fn controls_of_the_standard() {
        let p = |moves, time: u64, increment: u64| Period {
            moves,
            time_ms: time * 1000,
            increment_ms: increment * 1000,
        };
        assert_eq!(periods("40/9000"), [p(Some(40), 9000, 0)]);
        assert_eq!(periods("300"), [p(None, 300, 0)]);
        assert_eq!(periods("4500+60"), [p(None, 4500, 60)]);
        assert_eq!(periods("*180"), [p(None, 180, 0)]);
        assert_eq!(
            periods("40/5400:1800"),
            [p(Some(40), 5400, 0), p(None, 1800, 0)]
        );
        for unknown in ["?", "-", "*", "", "x", "1/", "99999999999999999999"] {
            assert_eq!(periods(unknown), [], "{unknown}");
        }
    }

    #[test]
    fn time_spent_follows_from_the_clocks() {
        let game = "[TimeControl \"3600+30\"]\n1. e4 {[%clk 1:00:20]} e5 {[%clk 1:00:30]} 2. Nf3 {[%clk 0:50:50]} \
                    Nc6 {[%emt 0:01:00]} 3. Bb5 {[%clk 2:00:00]} *";
        let times = times(game);
        assert_eq!(
            times.spent_ms,
            [Some(10_000), Some(0), Some(600_000), Some(60_000), None]
        );
        assert_eq!(times.before(4), Some(3_050_000));
        assert_eq!(times.trouble_ms(), Some(300_000));
    }

    #[test]
    fn a_new_period_adds_its_time() {
        let control = periods("2/100+1:50");
        assert_eq!(
            [1, 2, 3, 9].map(|n| added(&control, n)),
            [1000, 51_000, 0, 0]
        );
        let control = periods("40/5400:20/1800:900+10");
        assert_eq!(
            [39, 40, 59, 60, 61].map(|n| added(&control, n)),
            [0, 1_800_000, 0, 900_000, 10_000]
        );
    }

    #[test]
    fn without_a_control_the_increment_is_the_largest_rise() {
        let times = times(
            "1. e4 {[%clk 0:10:00]} e5 2. Nf3 {[%clk 0:10:05]} Nc6 3. Bb5 {[%clk 0:09:00]} *",
        );
        assert_eq!(times.increment_ms, 5_000);
        assert_eq!(times.spent_ms, [None, None, Some(0), None, Some(70_000)]);
        assert!(super::Times::default().is_empty());
    }
}
