//! `foreply` and `foreply practice`: the screens.

use super::args::{Global, Practice};
use super::{Failure, drills};
use crate::app::App;
use crate::board::{Line, line};
use crate::tui::{self, Options, Start};

/// The screens on what to practise now.
pub(super) fn home(global: &Global) -> Result<(), Failure> {
    open(global, Start::Home, None)
}

/// The screens on one position.
pub(super) fn run(global: &Global, args: &Practice) -> Result<(), Failure> {
    let start = match (&args.drill, &args.fen) {
        (Some(text), _) => Start::Drill(drills::find(text)?.id.clone()),
        (None, Some(fen)) => Start::Position(Box::new(Line::new(
            line::read_fen(fen).map_err(Failure::input)?,
        ))),
        (None, None) => Start::Home,
    };
    open(global, start, args.minutes)
}

fn open(global: &Global, start: Start, minutes: Option<u32>) -> Result<(), Failure> {
    let app = App::open(global.config()?)?;
    global.tell(app.notices());
    let options = Options {
        minutes,
        ascii: global.ascii,
        ..Options::default()
    };
    Ok(tui::run(app, &start, options)?)
}
