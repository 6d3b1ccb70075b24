//! Recognising the moments that decide: of the turning points of his own games, how many he named before any engine
//! spoke, and of the moments that he named, how many were one.
//!
//! What a turning point is, and when one counts as named, stands where the two are compared: `games/thoughts`.

use std::collections::BTreeMap;

use jiff::tz::TimeZone;
use serde::{Deserialize, Serialize};

use super::stats::{Interval, Rate};
use crate::store::Record;

/// Turning points below which a rate says nothing (common practice, no source; as many as moments of a blind spot).
pub const ENOUGH: u64 = 20;

/// The counts of one game; it lies under the game's identifier, and can be computed again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Recognised {
    /// When he locked his thoughts, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    /// Turning points of the game, and those of them that he named.
    pub turning: u32,
    pub recognised: u32,
    /// Moments that he named, and those of them that were turning points, or critical.
    pub marks: u32,
    pub right: u32,
}

impl Record for Recognised {
    const TABLE: &'static str = "recognised";
    const VERSION: u32 = 1;
    const DISPOSABLE: bool = true;
}

/// All games together, and by month.
#[derive(Debug, Clone, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Recognising {
    pub games: usize,
    /// Turning points that he named, of all.
    pub named: Rate,
    /// 95 % (Wilson).
    pub interval: Interval,
    /// His moments that were turning points or critical, of all that he named.
    pub right: Rate,
    pub enough: bool,
    /// The oldest first.
    pub months: Vec<RecognisingMonth>,
}

/// The games whose thoughts were locked in one month.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct RecognisingMonth {
    /// `2026-11`.
    pub month: String,
    pub games: usize,
    pub named: Rate,
    pub right: Rate,
}

/// The counts.
#[must_use]
pub fn recognising(games: &[Recognised], zone: &TimeZone) -> Recognising {
    let mut months: BTreeMap<String, RecognisingMonth> = BTreeMap::new();
    let (mut named, mut right) = (Rate::default(), Rate::default());
    for game in games {
        let of_game = Rate::new(game.recognised.into(), game.turning.into());
        let right_of_game = Rate::new(game.right.into(), game.marks.into());
        named = named.with(of_game);
        right = right.with(right_of_game);
        let Ok(then) = jiff::Timestamp::from_millisecond(game.wall_ms) else {
            continue;
        };
        let name = then.to_zoned(zone.clone()).strftime("%Y-%m").to_string();
        let month = months.entry(name.clone()).or_insert(RecognisingMonth {
            month: name,
            games: 0,
            named: Rate::default(),
            right: Rate::default(),
        });
        month.games += 1;
        month.named = month.named.with(of_game);
        month.right = month.right.with(right_of_game);
    }
    Recognising {
        games: games.len(),
        named,
        interval: named.wilson(),
        right,
        enough: named.of >= ENOUGH,
        months: months.into_values().collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn games_count_by_the_month_in_which_they_were_written_about() {
        let game = |wall_ms, turning, recognised| Recognised {
            wall_ms,
            turning,
            recognised,
            marks: 3,
            right: 2,
        };
        const DAY: i64 = 86_400_000;
        // 1970-01-31, 1970-02-01 and 1970-02-28, UTC.
        let games = [
            game(30 * DAY, 4, 1),
            game(31 * DAY, 3, 2),
            game(58 * DAY, 0, 0),
        ];
        let all = recognising(&games, &TimeZone::UTC);
        assert_eq!((all.games, all.named), (3, Rate::new(3, 7)));
        assert_eq!(all.right, Rate::new(6, 9));
        assert!(!all.enough);
        let months: Vec<(&str, usize, Rate)> = all
            .months
            .iter()
            .map(|m| (m.month.as_str(), m.games, m.named))
            .collect();
        assert_eq!(
            months,
            [
                ("1970-01", 1, Rate::new(1, 4)),
                ("1970-02", 2, Rate::new(2, 3))
            ]
        );
    }
}
