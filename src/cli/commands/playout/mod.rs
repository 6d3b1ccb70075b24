//! `foreply playout`: a position against the engine, and the account of it afterwards.

mod ladder;
mod plain;

use std::fmt::Write;
use std::io::{IsTerminal, stdin, stdout};

use crate::app::{App, GameId, PlayoutSession, PlayoutTerms, Subject, converted};
use crate::board::{Line, line};
use crate::cli::args::{Colour, Global, Page, Playout as Args};
use crate::cli::shell::error::print;
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, locate, open_app};
use crate::playout::{ClockSet, Goal, Level, Outcome, Side};
use crate::report;
use crate::text;
use crate::tui::{Options, Start};

pub(crate) fn run(global: &Global, args: &Args) -> Result<(), Failure> {
    if args.ladder {
        return print(&ladder::ladder()?);
    }
    let clock = args.clock.as_deref().map(read_clock).transpose()?;
    let mut config = global.config()?;
    config.nodes = Some(args.nodes);
    config.ahead = false;
    config.writing = !args.list && args.account.is_none();
    let app = open_app::opened(global, config)?;
    if args.list {
        return print(&list(&app)?);
    }
    if let Some(name) = &args.account {
        return account(global, args, &app, &locate::game(&app, name, true)?);
    }
    let playing = open(&app, args, clock)?;
    if args.plain || !stdin().is_terminal() || !stdout().is_terminal() {
        return plain::play(&app, playing);
    }
    let start = Start::Playout(playing.id().clone());
    drop(playing);
    open_app::show(global, app, &start, Options::default())
}

fn open(app: &App, args: &Args, clock: Option<ClockSet>) -> Result<PlayoutSession, Failure> {
    if let Some(name) = &args.resume {
        return Ok(app
            .playouts()
            .resume_playout(&locate::game(app, name, false)?)?);
    }
    if let Some(name) = &args.again {
        return Ok(app
            .playouts()
            .playout_again(&locate::game(app, name, true)?, args.from)?);
    }
    let subject = match (&args.position, &args.fen) {
        (Some(text), _) => Subject::Drill(locate::drill(text)?),
        (None, fen) => Subject::Position(Line::new(
            line::read_fen(fen.as_deref().unwrap_or_default()).map_err(Failure::input)?,
        )),
    };
    let terms = PlayoutTerms {
        side: args.side.map(|c| match c {
            Colour::White => Side::White,
            Colour::Black => Side::Black,
        }),
        goal: args.hold.map_or(Goal::Win, |moves| Goal::Hold { moves }),
        level: Level::try_from(args.level).map_err(Failure::usage)?,
        clock,
        write_every: args.write_every,
    };
    Ok(app.playouts().open_playout(&subject, terms)?)
}

/// '15+10': minutes for the game and seconds for each move.
fn read_clock(text: &str) -> Result<ClockSet, Failure> {
    let wrong = || {
        Failure::usage(tr!(
            "--clock {text}: give minutes and seconds for each move, 15+10, or minutes alone, 15 (up to 300 and 300)"
        ))
    };
    let (minutes, seconds) = text.split_once('+').unwrap_or((text, "0"));
    let read = |t: &str, max: u64| t.trim().parse::<u64>().ok().filter(|n| *n <= max);
    let minutes = read(minutes, 300).ok_or_else(wrong)?;
    let seconds = read(seconds, 300).ok_or_else(wrong)?;
    if minutes + seconds == 0 {
        return Err(wrong());
    }
    Ok(ClockSet {
        base_ms: minutes * 60_000 + if minutes == 0 { seconds * 1000 } else { 0 },
        increment_ms: seconds * 1000,
    })
}

fn list(app: &App) -> Result<String, Failure> {
    let mut out = String::new();
    let games = app.playouts().games_played_out()?;
    for (id, game) in &games {
        let outcome = game.outcome.map_or(tr!("goes on"), Outcome::word);
        let converted = converted(&games, &game.root, game.level);
        let _ = writeln!(
            out,
            "{}",
            tr!(
                "{id}  level {:>2}  {:>3} moves  {outcome:<8}{}  {}",
                u8::from(game.level),
                game.moves,
                if converted {
                    tr!("converted")
                } else {
                    "         "
                },
                text::fit(&game.root, 40).trim_end(),
            )
        );
    }
    if out.is_empty() {
        out.push_str(tr!(
            "No games yet; `foreply playout --ladder` shows positions to begin with.\n"
        ));
    }
    Ok(out)
}

fn account(global: &Global, args: &Args, app: &App, id: &GameId) -> Result<(), Failure> {
    let target = locate::target(global, args.output.as_deref(), &[])?;
    let form = Page::asked(args.format, args.output.as_deref())?;
    let bar = Progress::new(global.quiet, tr!("going through the game"));
    let account = app
        .playouts()
        .account(id, &mut |done, all| bar.show(done, all))?;
    drop(bar);
    let page = match form {
        Page::Text => report::account_text(&account),
        Page::Json => report::account_json(&account).map_err(Failure::input)?,
        Page::Html => report::account_html(&account).map_err(Failure::input)?,
    };
    target.tell(&page)
}
