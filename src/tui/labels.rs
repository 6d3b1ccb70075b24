//! What things are called on the screens: positions before they are solved, drills, dates, and what is
//! said when something was kept.

use std::path::Path;

use jiff::{Timestamp, tz::TimeZone};

use crate::app::{App, GameSummary, HomeworkTask};
use crate::attempt::Origin;
use crate::drill::Drill;
use crate::drill::is_of_own_game;
use crate::text;
use crate::tui::widgets::position_text::side;

/// What is said when a sitting is left.
pub const KEPT: &str = tr_later!("The sitting is kept: go on with it any time.");

/// What is said when an attempt was written to a file for the coach.
#[must_use]
pub fn for_coach(file: &Path) -> String {
    tr!(
        "Written without its review to {}; what comes back: foreply coach take FILE",
        text::safe(&file.display().to_string())
    )
}

/// The terms of quick calculation.
#[must_use]
pub fn quick_terms(clock_ms: u64) -> String {
    tr!(
        "Quick calculation: you have {} from when you start. Then no line is written any more; you choose and lock.",
        text::clock(clock_ms)
    )
}

/// What a position is called before it is solved: a number, never a name.
#[must_use]
pub fn origin(app: &App, origin: &Origin) -> String {
    match origin {
        Origin::Drill(id) if is_of_own_game(id) => match app.drills().find(id) {
            Ok((number, _)) => tr!("Own game {number}"),
            Err(_) => locked(app, origin),
        },
        _ => locked(app, origin),
    }
}

/// What a position is called once it is locked: an own game by its players, event and move.
#[must_use]
pub fn locked(app: &App, origin: &Origin) -> String {
    text::dates_in(&app.attempts().place(origin)).into_owned()
}

/// A game that was played out: against which level, and what came of it.
#[must_use]
pub fn played_out(app: &App, game: &GameSummary) -> String {
    let from = locked(app, &game.origin);
    let result = game
        .outcome
        .map_or(tr!("goes on"), |outcome| outcome.word());
    let moves = tr!(game.moves; "{} move" | "{} moves", text::whole(game.moves));
    tr!(
        "{from}, played out: level {}, {moves}, {result}",
        game.level
    )
}

/// A drill before it is solved: its number, whose move it is, its minutes.
#[must_use]
pub fn drill(app: &App, drill: &Drill) -> String {
    let label = origin(app, &Origin::Drill(drill.id.clone()));
    let turn = side(drill.root.player());
    tr!("{label:<13} {turn} to move  {:>3} min", drill.minutes)
}

/// `2026-11-25`.
#[must_use]
pub fn date(wall_ms: i64, zone: &TimeZone) -> String {
    Timestamp::from_millisecond(wall_ms).map_or_else(
        |_| tr!("no date").to_owned(),
        |t| text::date(t.to_zoned(zone.clone()).date()),
    )
}

/// What is said when a cause was taken off his list.
#[must_use]
pub fn off_the_list(cause: &str) -> String {
    tr!("'{cause}' is off your list; what you explained with it keeps it.")
}

/// What a coach set, with the day: 'by 2026-12-05: find the move (Bram Oskarn)'.
#[must_use]
pub fn homework(app: &App, task: &HomeworkTask, zone: &TimeZone) -> String {
    let day = match &task.due {
        Some(due) if task.is_late(app.homework().today(zone)) => {
            tr!("late, was due {}", text::day(due))
        }
        Some(due) => tr!("by {}", text::day(due)),
        None => tr!("set {}", date(task.set_ms, zone)),
    };
    match task.words.trim() {
        "" => tr!("{day}: from {}", task.by),
        words => format!("{day}: {words} ({})", task.by),
    }
}
