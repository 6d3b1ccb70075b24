//! The course of the last weeks as a small picture, from the history alone.

use jiff::Timestamp;
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::app::HistoryEntry;
use crate::text;
use crate::tui::nav::context::Context;
use crate::tui::widgets::canvas::{Canvas, TextStyle};

/// Weeks that are shown.
const WEEKS: usize = 8;

/// One week with attempts in it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct CourseWeek {
    /// Its Monday.
    monday: Date,
    attempts: usize,
    /// Half-moves of the reviewed ones.
    needed: usize,
    sound: usize,
}

impl CourseWeek {
    /// How much of the needed depth held, in percent; `None` where nothing was reviewed that needed any.
    fn held(&self) -> Option<usize> {
        (100 * self.sound.min(self.needed)).checked_div(self.needed)
    }
}

/// The last weeks in which something was written, the latest last. The entries come newest first.
fn course<'a>(entries: impl Iterator<Item = &'a HistoryEntry>, zone: &TimeZone) -> Vec<CourseWeek> {
    let mut weeks: Vec<CourseWeek> = Vec::new();
    for entry in entries {
        let Some(monday) = monday(entry.wall_ms, zone) else {
            continue;
        };
        if weeks.last().is_none_or(|week| week.monday != monday) {
            if weeks.len() == WEEKS {
                break;
            }
            weeks.push(CourseWeek {
                monday,
                attempts: 0,
                needed: 0,
                sound: 0,
            });
        }
        if let Some(week) = weeks.last_mut() {
            week.attempts += 1;
            if let Some(reviewed) = &entry.reviewed {
                week.needed += reviewed.needed;
                week.sound += reviewed.sound.min(reviewed.needed);
            }
        }
    }
    weeks.reverse();
    weeks
}

fn monday(wall_ms: i64, zone: &TimeZone) -> Option<Date> {
    let day = Timestamp::from_millisecond(wall_ms).ok()?;
    let day = day.to_zoned(zone.clone()).date();
    let back = i64::from(day.weekday().to_monday_zero_offset());
    day.checked_sub(back.days()).ok()
}

/// The kinds of what was found, behind an attempt.
pub(super) fn findings(summary: &HistoryEntry) -> String {
    let Some(reviewed) = &summary.reviewed else {
        return String::new();
    };
    let kinds: Vec<&str> = reviewed.kinds.iter().map(|k| k.label()).collect();
    match kinds.as_slice() {
        [] => tr!("  clean").to_owned(),
        kinds => format!("  {}", kinds.join(", ")),
    }
}

/// Draws how much of the needed depth held, week by week.
pub(super) fn draw<'a>(
    canvas: &mut Canvas,
    ctx: &Context,
    entries: impl Iterator<Item = &'a HistoryEntry>,
    (x, y): (usize, usize),
) {
    let weeks = course(entries, &ctx.display.zone);
    if weeks.is_empty() {
        return;
    }
    let words = tr!("How much of the needed depth held, week by week");
    canvas.put(x, y, words, TextStyle::ACCENT);
    let sign = if ctx.display.glyphs.ascii { "#" } else { "▆" };
    for (i, week) in weeks.iter().enumerate() {
        let attempts = tr!(week.attempts; "{} sitting" | "{} sittings", text::whole(week.attempts));
        let held = week.held().map_or_else(
            || tr!("not reviewed").to_owned(),
            |held| format!("{} {held} %", sign.repeat(held.div_ceil(5))),
        );
        let line = format!("{}  {attempts:<12} {held}", text::date(week.monday));
        canvas.put(x, y + 1 + i, &line, TextStyle::PLAIN);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::ReviewSummary;
    use crate::attempt::Origin;

    fn entry(date: &str, depths: Option<(usize, usize)>) -> HistoryEntry {
        let day: Date = date.parse().unwrap();
        let at = day.at(12, 0, 0, 0).to_zoned(TimeZone::UTC).unwrap();
        HistoryEntry {
            wall_ms: at.timestamp().as_millisecond(),
            origin: Origin::Position,
            used_ms: 0,
            choice: String::new(),
            moves: 1,
            reviewed: depths.map(|(needed, sound)| ReviewSummary {
                findings: 0,
                effect: 0.0,
                needed,
                reached: needed,
                sound,
                struck: 0,
                kinds: Vec::new(),
            }),
            black: None,
            budget_ms: None,
            quick: None,
        }
    }

    #[test]
    fn attempts_are_put_together_week_by_week() {
        let entries = [
            entry("2026-11-29", Some((4, 1))),
            entry("2026-11-23", Some((4, 5))),
            entry("2026-11-22", None),
        ];
        let weeks = course(entries.iter(), &TimeZone::UTC);
        let told: Vec<_> = weeks
            .iter()
            .map(|w| (w.monday.to_string(), w.attempts, w.held()))
            .collect();
        assert_eq!(
            told,
            [
                ("2026-11-16".to_owned(), 1, None),
                ("2026-11-23".to_owned(), 2, Some(62)),
            ]
        );
    }
}
