//! `foreply games account`: one game, told on a page.

use super::judging::settings;
use crate::cli::args::{GameAccount as Args, Global, Page};
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, locate, open_app, told};
use crate::report;

pub(super) fn run(global: &Global, args: &Args) -> Result<(), Failure> {
    let (target, form) = locate::page(global, &args.page)?;
    let app = open_app::writing(global)?;
    if args.judging.over {
        app.games().say_over()?;
    }
    let game = app.games().own_game(&args.game)?;
    let settings = settings(&args.judging);
    let bar = Progress::timed(global.quiet, tr!("judging"));
    let read = app
        .games()
        .account_of_game(&game, &settings, &mut |step| bar.show(step.done, step.of))?;
    drop(bar);
    let told = told::account(&read);
    let page = match form {
        Page::Text => report::account_of_game_text(&told),
        Page::Json => report::account_of_game_json(&told).map_err(Failure::input)?,
        Page::Html => report::account_of_game_html(&told).map_err(Failure::input)?,
    };
    target.tell(&page)
}
