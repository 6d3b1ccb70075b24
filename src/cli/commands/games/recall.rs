//! `foreply games recall`: his own thoughts on a game, before any engine speaks of it.

use super::judging::settings;
use crate::app::{App, EntryToken};
use crate::cli::args::{Global, Page, Recall};
use crate::cli::shell::files::Target;
use crate::cli::shell::progress_bar::Progress;
use crate::cli::told;
use crate::cli::{Failure, letters, locate, open_app};
use crate::games::OwnGame;
use crate::games::thoughts::Thought;
use crate::report;
use crate::text::safe;
use crate::tree::Verdict;
use crate::tui::input::line_parser;

pub(super) fn run(global: &Global, args: &Recall) -> Result<(), Failure> {
    let (target, form) = locate::page(global, &args.page)?;
    let app = open_app::writing(global)?;
    if args.judging.over {
        app.games().say_over()?;
    }
    let game = app.games().own_game(&args.game)?;
    // All of it is read before anything is kept.
    let said = said(&game, args)?;
    let lines = lines(args)?;
    for thought in said {
        app.games().think(&game, thought)?;
    }
    if let (Some(ply), false) = (ply(&game, args.mark)?, lines.is_empty()) {
        app.games().think_lines(&game, ply, &lines)?;
    }
    if args.lock {
        app.games().lock_thoughts(&game)?;
    }
    let thoughts = app.games().gather_thoughts(&game)?;
    if thoughts.locked_ms.is_some() && !args.lock {
        return read(global, &app, args, &game, (&target, form));
    }
    let page = match form {
        Page::Text => {
            let next = match args.lock {
                true => tr!(
                    "`foreply games recall {}` holds them against the game.\n",
                    game.id
                ),
                false => String::new(),
            };
            report::thoughts_text(&game, &thoughts) + &next
        }
        Page::Json => report::thoughts_json(&game, &thoughts).map_err(Failure::input)?,
        Page::Html => report::thoughts_html(&game, &thoughts).map_err(Failure::input)?,
    };
    target.tell(&page)
}

/// His locked thoughts beside what the judge says.
fn read(
    global: &Global,
    app: &App,
    args: &Recall,
    game: &OwnGame,
    (target, form): (&Target, Page),
) -> Result<(), Failure> {
    let settings = settings(&args.judging);
    let bar = Progress::timed(global.quiet, tr!("judging"));
    let read = app
        .games()
        .compare_thoughts(game, &settings, &mut |step| bar.show(step.done, step.of))?;
    drop(bar);
    let told = told::thoughts(&read);
    let page = match form {
        Page::Text => report::thoughts_read_text(&told),
        Page::Json => report::thoughts_read_json(&told).map_err(Failure::input)?,
        Page::Html => report::thoughts_read_html(&told).map_err(Failure::input)?,
    };
    target.tell(&page)
}

/// The half-move with which he made the move of a number.
fn ply(game: &OwnGame, number: Option<u16>) -> Result<Option<usize>, Failure> {
    let Some(number) = number else {
        return Ok(None);
    };
    let found = game.his_ply(usize::from(number));
    found.map(Some).ok_or_else(|| {
        let last = (0..game.plies()).rev().find(|p| game.is_his(*p));
        let there = last.map_or_else(
            || tr!("you made no move in it").to_owned(),
            |p| tr!("your last one is move {}", game.number(p)),
        );
        Failure::input(tr!(
            "there is no move {number} of yours in this game: {there}"
        ))
    })
}

fn said(game: &OwnGame, args: &Recall) -> Result<Vec<Thought>, Failure> {
    let mut said = Vec::new();
    if let Some(ply) = ply(game, args.unmark)? {
        said.push(Thought::Unmark(ply));
    }
    if let Some(ply) = ply(game, args.mark)? {
        said.push(Thought::Mark(ply));
        if let Some(felt) = &args.felt {
            said.push(Thought::Verdict(
                ply,
                Some(Verdict::parse(felt).map_err(Failure::input)?),
            ));
        }
        said.extend(args.feared.clone().map(|words| Thought::Feared(ply, words)));
    }
    said.extend(args.sentence.clone().map(Thought::Sentence));
    Ok(said)
}

/// The lines that he saw, each as what is written one below the other.
fn lines(args: &Recall) -> Result<Vec<Vec<EntryToken>>, Failure> {
    let lines = args.saw.iter().map(|line| {
        let read = line_parser::read_in(line, letters::chosen());
        match read.bad {
            Some((bad, _)) => Err(Failure::input(tr!("--saw '{}': {bad}", safe(line)))),
            None => Ok(read.pieces),
        }
    });
    lines.collect()
}
