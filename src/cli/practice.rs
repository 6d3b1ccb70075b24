//! `foreply` and `foreply practice`: the screens.

use super::args::{self, Global, Practice};
use super::{Failure, drills};
use crate::app::App;
use crate::attempt::Sight;
use crate::board::{Line, line};
use crate::tui::{self, Options, Start};

/// The screens on what to practise now.
pub(super) fn home(global: &Global) -> Result<(), Failure> {
    open(global, &Start::Home, Options::default())
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
    let sight = match args.sight {
        args::Sight::Root => Sight::Root,
        args::Sight::Follow => Sight::Follow,
        args::Sight::None => Sight::None,
    };
    let minutes = args.minutes;
    open(
        global,
        &start,
        Options {
            minutes,
            sight,
            look_s: args.look,
            ..Options::default()
        },
    )
}

fn open(global: &Global, start: &Start, options: Options) -> Result<(), Failure> {
    let mut config = global.config()?;
    config.writing = true;
    let ascii = global.ascii()?;
    let app = App::open(config)?;
    global.tell(app.notices());
    Ok(tui::run(app, start, Options { ascii, ..options })?)
}
