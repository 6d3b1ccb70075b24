//! `foreply progress`: what many attempts say together.

use jiff::tz::TimeZone;

use crate::app::App;
use crate::cli::args::{Global, Page, ProgressPage};
use crate::cli::shell::files::Target;
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, locate, open_app};
use crate::progress::account::Plan;
use crate::report;

pub(crate) fn run(global: &Global, args: &ProgressPage) -> Result<(), Failure> {
    let (target, form) = locate::page(global, &args.page)?;
    let app = open_app::reading(global)?;
    if args.sittings.is_some() || args.habit.is_some() {
        let old = app.progress().plan()?;
        app.progress().set_plan(&Plan {
            sittings: args.sittings.or(old.sittings),
            habit: args.habit.clone().or(old.habit),
        })?;
    }
    if args.count {
        let bar = Progress::new(global.quiet, tr!("counting"));
        app.progress()
            .count_all(&mut |done, all| bar.show(done, all))?;
    }
    if args.eve {
        return eve(&app, args, form, &target);
    }
    let found = app.progress().report(&TimeZone::system())?;
    let page = match form {
        Page::Text => report::progress_text(&found),
        Page::Json => report::progress_json(&found).map_err(Failure::input)?,
        Page::Html => report::progress_html(&found).map_err(Failure::input)?,
    };
    target.tell(&page)
}

fn eve(app: &App, args: &ProgressPage, form: Page, target: &Target) -> Result<(), Failure> {
    let found = app.practice().eve()?;
    let drills = found.drills.into_iter().map(|next| report::Solved {
        drill: next.drill,
        minutes: next.minutes,
    });
    let drills: Vec<report::Solved> = drills.collect();
    let opponent = match &args.against {
        Some(name) => Some(app.games().opponent(name, &locate::texts(&args.games)?)?),
        None => None,
    };
    let eve = report::Eve {
        drills: &drills,
        habits: &found.habits,
        takeaways: &found.takeaways,
        opponent: opponent.as_ref(),
    };
    let page = match form {
        Page::Text => report::eve_text(&eve),
        Page::Json => report::eve_json(&eve).map_err(Failure::input)?,
        Page::Html => report::eve_html(&eve).map_err(Failure::input)?,
    };
    target.tell(&page)
}
