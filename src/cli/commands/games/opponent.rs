//! `foreply games opponent`: what the games of the next opponent say.

use crate::cli::args::{Global, Opponent, Page};
use crate::cli::{Failure, locate, open_app};
use crate::report;

pub(super) fn run(global: &Global, args: &Opponent) -> Result<(), Failure> {
    let (target, form) = locate::page(global, &args.page)?;
    let app = open_app::reading(global)?;
    let texts = locate::texts(&args.games)?;
    let facts = app.games().opponent(&args.name, &texts)?;
    let page = match form {
        Page::Text => report::opponent_text(&facts),
        Page::Json => report::opponent_json(&facts).map_err(Failure::input)?,
        Page::Html => report::opponent_html(&facts).map_err(Failure::input)?,
    };
    target.tell(&page)
}
