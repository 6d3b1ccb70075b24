//! `foreply games clock`: where the time went.

use super::judging::{by, judged};
use crate::cli::args::{Clock, Global, Page};
use crate::cli::{Failure, locate, open_app};
use crate::games::clock;
use crate::games::conversion::conversion;
use crate::games::moment::Habits;
use crate::report;

pub(super) fn run(global: &Global, args: &Clock) -> Result<(), Failure> {
    let target = locate::target(global, args.output.as_deref(), &[])?;
    let form = Page::asked(args.format, args.output.as_deref())?;
    let app = open_app::writing(global)?;
    let (judged, settings) = judged(global, &app, &args.judging)?;
    let (games, by) = (&judged.games, by(&judged));
    let times = clock::clock(games, &Habits::of(games), &settings);
    let heights = conversion(games);
    let page = match form {
        Page::Text => report::games_clock::clock(games, &times, &heights),
        Page::Json => {
            report::games_clock::clock_json(&times, &heights, by).map_err(Failure::input)?
        }
        Page::Html => report::clock_html(games, &times, &heights, by).map_err(Failure::input)?,
    };
    target.tell(&page)
}
