//! Time and conversion of own games, as text and JSON.

use std::fmt::Write;

use serde::Serialize;

use super::games::{By, counted};
use super::{document_json, paragraph};
use crate::games::clock::{Clock, Height, Thinks};
use crate::games::survey::Surveyed;
use crate::text;

/// Where the time went and what it brought.
#[must_use]
pub fn clock(games: &[Surveyed], clock: &Clock, heights: &[Height]) -> String {
    let mut out = String::new();
    if clock.games == 0 {
        out.push_str("No clock times in your games: nothing can be said about time.\n");
    } else {
        out.push_str(&times(clock));
    }
    out.push_str("\nFrom an advantage to points\n");
    for height in heights.iter().filter(|h| h.games > 0) {
        let percent = 100.0 * height.points / height.games as f64;
        let _ = writeln!(
            out,
            "  stood at {:.2} or more: {}, {} points ({percent:.0} %)",
            height.from,
            counted(height.games, "game"),
            height.points
        );
    }
    if let Some(lowest) = heights.first() {
        for (at, ply, drop) in &lowest.slips {
            let Some(surveyed) = games.get(*at) else {
                continue;
            };
            let left = surveyed.game.times.before(*ply);
            let left = left.map_or(String::new(), |ms| {
                format!(", {} on the clock", text::clock(ms))
            });
            let line = format!(
                "{}: not won; most was lost at move {} ({drop:.2}){left}.",
                surveyed.game.heading(),
                surveyed.game.number(*ply)
            );
            out.push_str(&paragraph(&line, "    "));
        }
    }
    out
}

fn times(clock: &Clock) -> String {
    let mut out = format!("{} with times", counted(clock.games, "game"));
    if clock.without > 0 {
        let _ = write!(out, ", {} without", clock.without);
    }
    out.push_str("\n\n                          moves   a move   of all   lost a move\n");
    let mut row = |name: &str, part: &Thinks| {
        let share = 100.0 * part.seconds / clock.all.seconds.max(1.0);
        let mean = text::clock((part.mean() * 1000.0) as u64);
        let _ = writeln!(
            out,
            "{} {:>6} {mean:>8} {share:>6.0} % {:>13.3}",
            text::fit(name, 24),
            part.moves,
            part.lost_a_move()
        );
    };
    row("all moves", &clock.all);
    clock.phases.iter().for_each(|(n, p)| row(n, p));
    clock.standings.iter().for_each(|(n, p)| row(n, p));
    row("high stakes", &clock.high_stakes);
    row("  of them made fast", &clock.fast_and_high);
    row("small stakes", &clock.small_stakes);
    row("in time trouble", &clock.trouble);
    row("not in time trouble", &clock.no_trouble);
    let names = [
        "fastest fifth",
        "second",
        "third",
        "fourth",
        "longest fifth",
    ];
    names.iter().zip(&clock.fifths).for_each(|(n, p)| row(n, p));
    if let Some(from) = clock.trouble_from {
        let line = format!(
            "Time trouble (under five minutes; in games of less than an hour under a tenth of the first budget) in {}, from move {from:.0} on average.",
            counted(clock.trouble_games, "game")
        );
        let _ = write!(out, "\n{}", paragraph(&line, ""));
    }
    out
}

#[derive(Serialize)]
struct Document<'a> {
    judge: By<'a>,
    clock: &'a Clock,
    conversion: &'a [Height],
}

/// The same, format `foreply-clock`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn clock_json(
    clock: &Clock,
    heights: &[Height],
    by: By<'_>,
) -> Result<String, serde_json::Error> {
    let document = Document {
        judge: by,
        clock,
        conversion: heights,
    };
    document_json("foreply-clock", &document)
}
