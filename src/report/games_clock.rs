//! Time and conversion of own games, as text and JSON.

use std::fmt::Write;

use serde::Serialize;

use super::games::By;
use super::paragraph;
use super::published::{Published, document_json};
use crate::games::clock::{Clock, Thinks};
use crate::games::conversion::{Height, Slip};
use crate::games::survey::Surveyed;
use crate::text;

/// Where the time went and what it brought.
#[must_use]
pub fn clock(games: &[Surveyed], clock: &Clock, heights: &[Height]) -> String {
    let mut out = String::new();
    if clock.games == 0 {
        out.push_str(tr!(
            "No clock times in your games: nothing can be said about time.\n"
        ));
    } else {
        out.push_str(&times(clock));
    }
    out.push_str(&conversion(games, heights));
    out
}

/// Points from each height, where it went in the games that were not won, and month by month.
fn conversion(games: &[Surveyed], heights: &[Height]) -> String {
    let mut out = tr!("\nFrom an advantage to points\n").to_owned();
    let reached: Vec<&Height> = heights.iter().filter(|h| h.games > 0).collect();
    if reached.is_empty() {
        let lowest = text::share(0.7, 2);
        let _ = writeln!(
            out,
            "{}",
            tr!("  In no game with a result did you stand at {lowest} or more.")
        );
    }
    for height in reached {
        let percent = 100.0 * height.points / height.games as f64;
        let _ = writeln!(
            out,
            "{}",
            tr!(
                "  stood at {} or more: {}, {} points ({percent:.0} %)",
                text::decimal(height.from, 2),
                tr!(height.games; "{} game" | "{} games", text::whole(height.games)),
                text::plain(height.points)
            )
        );
    }
    let Some(lowest) = heights.first() else {
        return out;
    };
    for slip in &lowest.slips {
        out.push_str(&paragraph(&slipped(games, slip), "    "));
    }
    if lowest.months.len() > 1 {
        let lowest = text::decimal(0.7, 2);
        let _ = writeln!(out, "{}", tr!("  by month, of the games from {lowest} on"));
    }
    for month in lowest.months.iter().filter(|_| lowest.months.len() > 1) {
        let _ = writeln!(
            out,
            "{}",
            tr!(
                "    {}: {} of {}",
                text::month(&month.month),
                text::plain(month.points),
                tr!(month.games; "{} game" | "{} games", text::whole(month.games))
            )
        );
    }
    out
}

/// Where an advantage went, in a sentence.
pub(super) fn slipped(games: &[Surveyed], slip: &Slip) -> String {
    let Some(surveyed) = games.get(slip.game) else {
        return String::new();
    };
    let left = slip.left_ms.map_or(String::new(), |ms| {
        let trouble = if slip.trouble {
            tr!(" (time trouble)")
        } else {
            ""
        };
        tr!(", {} on the clock{trouble}", text::clock(ms))
    });
    tr!(
        "{}: not won; most was lost at move {}, in the {} ({} of {}){left}.",
        text::dates_in(&surveyed.game.heading()),
        surveyed.game.number(slip.ply),
        slip.phase,
        text::decimal(slip.lost, 2),
        text::decimal(slip.before, 2)
    )
}

/// Where the borders of the table come from.
pub(super) fn sources() -> String {
    tr!(
        "Stakes are the spread of expected score among the plausible moves: high from {} on, \
     small below {}; fast is the fastest fifth of your thinks (common practice, no source). Under five minutes \
     the Laws no longer ask for a score sheet (FIDE Laws of Chess, 8.4, from memory): there time trouble begins; in \
     shorter games at a tenth of the first budget (common practice, no source).",
        text::share(0.1, 2),
        text::share(0.025, 3)
    )
}

/// The rows of the table: a name and its thinks.
pub(super) fn rows(clock: &Clock) -> Vec<(&'static str, Thinks)> {
    let mut rows = vec![(tr!("all moves"), clock.all)];
    rows.extend(&clock.phases);
    rows.extend(&clock.standings);
    rows.extend([
        (tr!("high stakes"), clock.high_stakes),
        (tr!("high stakes, made fast"), clock.fast_and_high),
        (tr!("small stakes"), clock.small_stakes),
        (tr!("in time trouble"), clock.trouble),
        (tr!("not in time trouble"), clock.no_trouble),
    ]);
    rows.extend(fifths().into_iter().zip(clock.fifths.iter().copied()));
    rows
}

/// His thinks in five parts of the same number.
pub(super) fn fifths() -> [&'static str; 5] {
    [
        tr!("fastest fifth"),
        tr!("of the fifths" => "second"),
        tr!("of the fifths" => "third"),
        tr!("of the fifths" => "fourth"),
        tr!("longest fifth"),
    ]
}

/// When time trouble begins; empty where it never does.
pub(super) fn trouble(clock: &Clock) -> String {
    clock.trouble_from.map_or(String::new(), |from| {
        tr!(
            "Time trouble (under five minutes; in games of less than an hour under a tenth of the first budget) in {}, from move {from:.0} on average.",
            tr!(clock.trouble_games; "{} game" | "{} games", text::whole(clock.trouble_games)))
    })
}

fn times(clock: &Clock) -> String {
    let mut out = tr!(
        "{} with times",
        tr!(clock.games; "{} game" | "{} games", text::whole(clock.games))
    );
    if clock.without > 0 {
        let _ = write!(out, "{}", tr!(", {} without", clock.without));
    }
    out.push_str(tr!(
        "\n\n                          moves   a move   of all   lost a move\n"
    ));
    let mut row = |name: &str, part: &Thinks| {
        let share = 100.0 * part.seconds / clock.all.seconds.max(1.0);
        let mean = text::clock((part.mean() * 1000.0) as u64);
        let _ = writeln!(
            out,
            "{} {:>6} {mean:>8} {share:>6.0} % {:>13}",
            text::fit(&text::figures_in(name), 24),
            text::whole(part.moves),
            text::decimal(part.lost_a_move(), 3)
        );
    };
    rows(clock).iter().for_each(|(n, p)| row(n, p));
    let trouble = trouble(clock);
    if !trouble.is_empty() {
        let _ = write!(out, "\n{}", paragraph(&trouble, ""));
    }
    let _ = write!(out, "\n{}", paragraph(&sources(), ""));
    out
}

/// Where the time went, and what became of advantages (`foreply games clock --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    judge: By<'a>,
    clock: &'a Clock,
    conversion: &'a [Height],
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-clock";
}

/// The same.
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
    document_json(&document)
}
