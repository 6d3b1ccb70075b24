//! `foreply` and `foreply practice`: the screens.

use std::path::Path;

use super::args::{self, Global, Practice};
use super::{Failure, drills};
use crate::app::{App, Config};
use crate::attempt::Sight;
use crate::board::{Line, line};
use crate::games::OWN;
use crate::tui::{self, Options, Start};

/// The screens on what to practise now.
pub(super) fn home(global: &Global) -> Result<(), Failure> {
    open(global, global.config()?, &Start::Home, Options::default())
}

/// The screens on one position.
pub(super) fn run(global: &Global, args: &Practice) -> Result<(), Failure> {
    let mut config = global.config()?;
    let start = match (&args.drill, &args.fen) {
        (Some(text), _) if is_file(text) => {
            let drills = drills::of_file(Path::new(text))?;
            let start = match drills.as_slice() {
                [only] => Start::Drill(only.id.clone()),
                _ => Start::Home,
            };
            config.drills = Some(drills);
            start
        }
        (Some(text), _) if text.starts_with(OWN) => Start::Drill(text.clone()),
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
        config,
        &start,
        Options {
            minutes,
            sight,
            look_s: args.look,
            ..Options::default()
        },
    )
}

/// True for the name of a file of drills; no drill has a dot or a slash in its name.
fn is_file(text: &str) -> bool {
    text.contains(['.', '/', '\\'])
}

fn open(
    global: &Global,
    mut config: Config,
    start: &Start,
    options: Options,
) -> Result<(), Failure> {
    config.writing = true;
    let ascii = global.ascii()?;
    let app = App::open(config)?;
    global.tell(app.notices());
    Ok(tui::run(app, start, Options { ascii, ..options })?)
}
