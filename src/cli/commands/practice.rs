//! `foreply` and `foreply practice`: the screens.

use std::io::IsTerminal;
use std::path::Path;

use crate::app::Config;
use crate::attempt::BoardVisibility;
use crate::board::{Line, line};
use crate::cli::Failure;
use crate::cli::args;
use crate::cli::args::{Global, Practice};
use crate::cli::{letters, locate, open_app};
use crate::drill::is_of_own_game;
use crate::text;
use crate::tui::{self, Options, Start, Touring};

/// The screens on what to practise now.
pub(crate) fn home(global: &Global) -> Result<(), Failure> {
    let options = Options {
        tour: Touring::Once,
        ..Options::default()
    };
    open(global, global.config()?, &Start::Home, options)
}

/// The screens on one position.
pub(crate) fn run(global: &Global, args: &Practice) -> Result<(), Failure> {
    let mut config = global.config()?;
    let start = match (&args.drill, &args.fen) {
        _ if args.homework => Start::Homework,
        _ if args.quick => Start::Quick(args.ladder),
        (Some(text), _) if is_file(text) => {
            let drills = locate::drills_of(Path::new(text))?;
            let start = match drills.as_slice() {
                [only] => Start::Drill(only.id.clone()),
                _ => Start::Home,
            };
            config.drills = Some(drills);
            start
        }
        (Some(text), _) if is_of_own_game(text) => Start::Drill(text.clone()),
        (Some(text), _) => Start::Drill(locate::drill(text)?),
        (None, Some(fen)) => Start::Position(Box::new(Line::new(
            line::read_fen(fen).map_err(Failure::input)?,
        ))),
        (None, None) => Start::Home,
    };
    let sight = match args.sight {
        args::Sight::Root => BoardVisibility::Root,
        args::Sight::Follow => BoardVisibility::Follow,
        args::Sight::None => BoardVisibility::None,
    };
    let options = Options {
        minutes: args.minutes,
        sight,
        look_s: args.look,
        tour: if args.tour {
            Touring::Now
        } else {
            Touring::Once
        },
        ..Options::default()
    };
    // A terminal that cannot place text gets lines, and is told so.
    let dumb = std::env::var("TERM").is_ok_and(|t| t == "dumb") && std::io::stdin().is_terminal();
    if dumb && !args.plain {
        global.tell(&[tr!("TERM is 'dumb': the sitting goes on in plain lines").to_owned()]);
    }
    if args.plain || dumb {
        return lines(global, config, &start, options);
    }
    open(global, config, &start, options)
}

/// The sitting on standard input and output.
fn lines(
    global: &Global,
    mut config: Config,
    start: &Start,
    options: Options,
) -> Result<(), Failure> {
    config.writing = true;
    let app = open_app::opened(global, config)?;
    let mut input = letters::Typed::new(text::Capped::new(std::io::stdin().lock()));
    let mut output = letters::Told::new(std::io::stdout().lock());
    let streams: (&mut dyn std::io::BufRead, &mut dyn std::io::Write) = (&mut input, &mut output);
    Ok(tui::console::sitting::run(&app, start, options, streams)?)
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
    open_app::show(global, open_app::opened(global, config)?, start, options)
}
