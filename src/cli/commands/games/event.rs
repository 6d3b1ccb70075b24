//! `foreply games event`: the rounds of an event, what runs through them, and what he takes away.

use super::judging::settings;
use crate::app::{App, TakeawayChange};
use crate::cli::args::{Event as Args, Global, Page};
use crate::cli::shell::error::print;
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, locate, open_app, told};
use crate::games::event::GameEvent;
use crate::games::event::countable::Countable;
use crate::report;

pub(super) fn run(global: &Global, args: &Args) -> Result<(), Failure> {
    let (target, form) = locate::page(global, &args.page)?;
    let app = open_app::writing(global)?;
    if args.list {
        return print(&report::events_list(&app.games().game_events()?));
    }
    if args.judging.over {
        app.games().say_over()?;
    }
    let event = app.games().game_event(&args.event)?;
    if change(&app, &event, args)? {
        return Ok(());
    }
    let settings = settings(&args.judging);
    let bar = Progress::timed(global.quiet, tr!("judging"));
    let read = app
        .games()
        .account_of_event(&event, &settings, &mut |step| bar.show(step.done, step.of))?;
    drop(bar);
    let told = told::event(&read);
    let page = match form {
        Page::Text => report::event_text(&told),
        Page::Json => report::event_json(&told).map_err(Failure::input)?,
        Page::Html => report::event_html(&told).map_err(Failure::input)?,
    };
    target.tell(&page)
}

/// Takes in or away a takeaway; true where that was asked.
fn change(app: &App, event: &GameEvent, args: &Args) -> Result<bool, Failure> {
    let change = match (&args.takeaway, args.drop) {
        (Some(words), _) => {
            let tied = args.tie.as_deref().map(Countable::parse).transpose();
            TakeawayChange::Add(words.clone(), tied.map_err(Failure::input)?)
        }
        (None, Some(number)) => TakeawayChange::Drop(usize::from(number)),
        (None, None) => return Ok(false),
    };
    let of = app.games().change_takeaways(event, change)?;
    let kept = match of.takeaways.len() {
        0 => tr!("No takeaway is kept for this event.\n").to_owned(),
        n => {
            tr!(n; "One takeaway is kept; the eve of a game and the next event show it.\n" | "{} takeaways are kept; the eve of a game and the next event show them.\n", crate::text::capital(&crate::text::number(n)))
        }
    };
    print(&kept)?;
    Ok(true)
}
