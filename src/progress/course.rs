//! Depth and time over the weeks, at equal difficulty.
//!
//! A hard week must not look like a bad one. So each attempt is compared with the mean of all attempts of
//! its difficulty: the depth that was needed (1-2, 3-4, 5-6, 7 and more half-moves) by the number of
//! plausible moves (one, two, three and more). A week's figure is the mean of all, plus the mean of its
//! differences (indirect standardisation; common practice, no source). Times are skewed, a few long ones would
//! decide: there the figure is the median of all, times the median of how a week's times compare with the median of
//! their difficulty.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::civil::{Date, Weekday};
use jiff::tz::TimeZone;
use serde::Serialize;

use super::difficulty::{Difficulty, difficulty, held, reached, replies};
use super::record::AttemptStatistics;
use super::stats::{Interval, mean, median};

/// One week, from Monday on, in the player's own time zone.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Week {
    /// Its Monday.
    #[serde(serialize_with = "as_text")]
    #[schemars(with = "String")]
    pub from: Date,
    pub attempts: usize,
    /// Half-moves.
    pub needed: f64,
    pub reached: f64,
    pub sound: f64,
    /// Share of the needed depth that was reached, at equal difficulty: 0 to 1.
    pub reached_share: f64,
    /// Share of the needed depth that was sound, at equal difficulty: 0 to 1.
    pub sound_share: f64,
    /// 95 % of the latter; `None` where there is one attempt.
    pub interval: Option<Interval>,
    /// Median time to the first reply, in milliseconds, at equal difficulty.
    pub first_reply_ms: Option<u64>,
    /// Share of the time that went to candidates that were dropped, 0 to 1.
    pub dropped: Option<f64>,
}

pub(super) fn as_text<S: serde::Serializer>(date: &Date, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(date)
}

/// The weeks with attempts, the first one first. Attempts whose date cannot be one are left out.
#[must_use]
pub fn weeks(attempts: &[&AttemptStatistics], zone: &TimeZone) -> Vec<Week> {
    let asked: Vec<&AttemptStatistics> =
        attempts.iter().copied().filter(|c| c.needed > 0).collect();
    let expected = [reached, held].map(|value| Expected::of(&asked, value));
    let usual = Usual::of(&asked);
    let mut by_week: BTreeMap<Date, Vec<&AttemptStatistics>> = BTreeMap::new();
    for counted in asked {
        if let Some(monday) = monday(counted.wall_ms, zone) {
            by_week.entry(monday).or_default().push(counted);
        }
    }
    by_week
        .into_iter()
        .map(|(from, of)| week(from, &of, &expected, &usual))
        .collect()
}

/// The Monday of the week in which the moment lies; `None` where no calendar holds it.
#[must_use]
pub fn monday(wall_ms: i64, zone: &TimeZone) -> Option<Date> {
    let date = Timestamp::from_millisecond(wall_ms)
        .ok()?
        .to_zoned(zone.clone())
        .date();
    let back = date.weekday().since(Weekday::Monday);
    date.checked_sub(jiff::Span::new().days(i64::from(back)))
        .ok()
}

/// Mean of a value by difficulty, and of all.
struct Expected {
    value: fn(&AttemptStatistics) -> f64,
    by: BTreeMap<Difficulty, f64>,
    all: f64,
}

impl Expected {
    fn of(attempts: &[&AttemptStatistics], value: fn(&AttemptStatistics) -> f64) -> Self {
        let mut groups: BTreeMap<Difficulty, Vec<f64>> = BTreeMap::new();
        for c in attempts {
            groups.entry(difficulty(c)).or_default().push(value(c));
        }
        let all: Vec<f64> = attempts.iter().map(|c| value(c)).collect();
        let means = groups
            .into_iter()
            .filter_map(|(k, v)| Some((k, mean(&v)?.0)));
        Self {
            value,
            by: means.collect(),
            all: mean(&all).map_or(0.0, |m| m.0),
        }
    }

    /// What the value would be at ordinary difficulty.
    fn adjusted(&self, c: &AttemptStatistics) -> f64 {
        self.all + (self.value)(c) - self.by.get(&difficulty(c)).unwrap_or(&self.all)
    }
}

/// Median time to the first reply by difficulty, and of all, in milliseconds.
struct Usual {
    by: BTreeMap<Difficulty, f64>,
    all: Option<f64>,
}

impl Usual {
    fn of(attempts: &[&AttemptStatistics]) -> Self {
        let mut groups: BTreeMap<Difficulty, Vec<&AttemptStatistics>> = BTreeMap::new();
        for c in attempts {
            groups.entry(difficulty(c)).or_default().push(c);
        }
        let medians = groups.into_iter();
        let medians = medians.filter_map(|(k, of)| Some((k, median(&replies(&of))?)));
        Self {
            by: medians.collect(),
            all: median(&replies(attempts)),
        }
    }

    /// What a week's time would be at ordinary difficulty; `None` where no reply was timed.
    fn adjusted(&self, of: &[&AttemptStatistics]) -> Option<f64> {
        let compared = |c: &&AttemptStatistics| {
            let usual = self.by.get(&difficulty(c)).filter(|usual| **usual > 0.0)?;
            Some(c.first_reply_ms? as f64 / usual)
        };
        let ratios: Vec<f64> = of.iter().filter_map(compared).collect();
        Some(self.all? * median(&ratios)?)
    }
}

fn week(
    from: Date,
    of: &[&AttemptStatistics],
    [reached, sound]: &[Expected; 2],
    usual: &Usual,
) -> Week {
    let average = |value: fn(&AttemptStatistics) -> f64| {
        of.iter().map(|c| value(c)).sum::<f64>() / of.len() as f64
    };
    let adjusted = |by: &Expected| {
        let values: Vec<f64> = of.iter().map(|c| by.adjusted(c)).collect();
        mean(&values).unwrap_or_default()
    };
    let (reached_share, _) = adjusted(reached);
    let (sound_share, interval) = adjusted(sound);
    let spent: u64 = of.iter().filter_map(|c| c.spent_ms).sum();
    let dropped: u64 = of.iter().filter_map(|c| c.dropped_ms).sum();
    Week {
        from,
        attempts: of.len(),
        needed: average(|c| f64::from(c.needed)),
        reached: average(|c| f64::from(c.reached)),
        sound: average(|c| f64::from(c.sound)),
        reached_share: reached_share.clamp(0.0, 1.0),
        sound_share: sound_share.clamp(0.0, 1.0),
        // A share at equal difficulty can be estimated beside what a share can be.
        interval: interval.map(|i| i.within(0.0, 1.0)),
        first_reply_ms: usual.adjusted(of).map(|ms| ms as u64),
        dropped: (spent > 0).then(|| (dropped as f64 / spent as f64).min(1.0)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::progress::record::tests::plain;

    const HOUR_MS: i64 = 3_600_000;

    /// Berlin, 29 March 2026: at 2:00 the clock goes to 3:00 (EU directive 2000/84/EC). 23:30 on that
    /// Sunday is still its week; half an hour later another begins.
    #[test]
    fn weeks_begin_on_monday_in_the_players_zone() {
        let berlin = TimeZone::posix("CET-1CEST,M3.5.0,M10.5.0/3").unwrap();
        let midnight_utc: Timestamp = "2026-03-29T00:00:00Z".parse().unwrap();
        let sunday = midnight_utc.as_millisecond() + 21 * HOUR_MS + HOUR_MS / 2;
        let day = |text: &str| Some(text.parse::<Date>().unwrap());
        assert_eq!(monday(sunday, &berlin), day("2026-03-23"));
        assert_eq!(monday(sunday + HOUR_MS, &berlin), day("2026-03-30"));
        assert_eq!(monday(sunday + HOUR_MS, &TimeZone::UTC), day("2026-03-23"));
        assert_eq!(monday(i64::MAX, &TimeZone::UTC), None);
    }

    #[test]
    fn a_hard_week_is_no_bad_week() {
        let attempt = |week: i64, needed: u16, sound: u16| {
            let mut c = plain(week * 7 * 24 * HOUR_MS);
            (c.needed, c.sound) = (needed, sound);
            c
        };
        // Easy and hard ones in the first week, hard ones alone in the second, all as ever.
        let all: Vec<AttemptStatistics> = [
            (0, 2, 2),
            (0, 2, 2),
            (0, 8, 2),
            (0, 8, 4),
            (1, 8, 2),
            (1, 8, 4),
        ]
        .map(|(w, n, s)| attempt(w, n, s))
        .into();
        let refs: Vec<&AttemptStatistics> = all.iter().collect();
        let weeks = weeks(&refs, &TimeZone::UTC);
        assert!(
            (weeks[0].sound_share - weeks[1].sound_share).abs() < 1e-12,
            "{weeks:?}"
        );
        assert!(weeks[1].needed > weeks[0].needed);
    }

    /// Hard positions take three times as long as easy ones, every week; one reply that took an hour says nothing of
    /// the week. In the third week everything is twice as fast.
    #[test]
    fn times_are_compared_at_equal_difficulty() {
        let attempt = |week: i64, needed: u16, seconds: u64| {
            let mut c = plain(week * 7 * 24 * HOUR_MS);
            (c.needed, c.first_reply_ms) = (needed, Some(1000 * seconds));
            c
        };
        let easy = [(0, 60), (0, 60), (0, 60), (1, 60), (2, 30), (2, 30)];
        let hard = [(0, 180), (1, 180), (1, 180), (1, 180), (1, 3600), (2, 90)];
        let easy = easy.map(|(week, seconds)| attempt(week, 2, seconds));
        let hard = hard.map(|(week, seconds)| attempt(week, 8, seconds));
        let all = [easy, hard].concat();
        let refs: Vec<&AttemptStatistics> = all.iter().collect();
        let weeks = weeks(&refs, &TimeZone::UTC);
        let times: Vec<_> = weeks.iter().map(|w| w.first_reply_ms).collect();
        // The median of all twelve lies between 60 and 90 seconds.
        assert_eq!(times, [Some(75_000), Some(75_000), Some(37_500)]);
    }
}
