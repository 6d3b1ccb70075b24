//! A game as lines of text on standard input and output: for screen readers, plain terminals, scripts.

use std::io::{BufRead, IsTerminal, stdin};

use crate::app::{App, AppError, GameCommand, PlayoutSession};
use crate::board::line;
use crate::cli::shell::error::print;
use crate::cli::{Failure, letters};
use crate::playout::Goal;
use crate::report::board_text;
use crate::text;
use crate::tree::NodeId;
use crate::tui::input::line_parser;

const HELP: &str = tr_later!(
    "\
A move: Nf3, exd5, e8=Q, O-O. Besides:
  board        the position        plan WORDS   your plan, kept
  write        candidates and lines before your move
  draw         offers a draw       claim        claims one (articles 9.2, 9.3)
  resign       gives up            adjourn      stops; --resume goes on
"
);

/// Plays until the game is over, adjourned, or the input ends (which adjourns it).
pub(crate) fn play(app: &App, mut playing: PlayoutSession) -> Result<(), Failure> {
    print(&opening(&playing))?;
    let mut input = letters::Typed::new(text::Capped::new(stdin().lock())).lines();
    loop {
        engine(&mut playing)?;
        if playing.end().is_some() {
            return over(app, &playing);
        }
        if playing.game().must_write() {
            print(tr!("You wanted to write before this move.\n"))?;
            write(&mut playing, &mut input)?;
            continue;
        }
        print(&prompt(&playing))?;
        let text = match next(&mut input) {
            Ok(Some(text)) => text,
            over => {
                playing.adjourn()?;
                print(&adjourned(&playing))?;
                return over.map(|_| ());
            }
        };
        match obey(&mut playing, text.trim(), &mut input) {
            Ok(true) => {}
            Ok(false) => return print(&adjourned(&playing)),
            // What the player typed is answered; what the disk or the engine did ends the command.
            Err(AppError::Line(why)) => print(&format!("{}\n", text::safe(&why)))?,
            Err(AppError::Game(why)) => print(&format!("{why}\n"))?,
            Err(other) => return Err(other.into()),
        }
    }
}

type Input<'a> = dyn Iterator<Item = std::io::Result<String>> + 'a;

fn next(input: &mut Input<'_>) -> Result<Option<String>, Failure> {
    let row = input
        .next()
        .transpose()
        .map_err(|e| Failure::input(tr!("standard input: {e}")))?;
    // A script's input is not echoed by a terminal; with it the output reads as it was played.
    if let (false, Some(row)) = (stdin().is_terminal(), &row) {
        print(&format!("{}\n", text::safe(row)))?;
    }
    Ok(row)
}

/// The engine's part, with a second try where it fails: its process is started anew by then.
fn engine(playing: &mut PlayoutSession) -> Result<(), Failure> {
    let done = match playing.engine_turn() {
        Err(AppError::Judge(_)) => playing.engine_turn(),
        done => done,
    };
    match done {
        Ok(None) => Ok(()),
        Ok(Some(said)) => print(&format!("{said}\n")),
        Err(error) => {
            let kept = adjourned(playing);
            playing.adjourn()?;
            print(&kept)?;
            Err(error.into())
        }
    }
}

fn opening(playing: &PlayoutSession) -> String {
    let game = playing.game();
    let side = game.side().fold_wb(tr!("White"), tr!("Black"));
    let goal = match game.opened().goal {
        Goal::Win => tr!("to win").to_owned(),
        Goal::Hold { moves } => tr!("to draw, or to be still playing after {moves} moves"),
    };
    tr!(
        "Game {}. You are {side}, {goal}; level {}. 'help' shows what you can type.\n\n{}\n",
        playing.id(),
        u8::from(game.opened().level),
        board_text(game.line().position(), game.side())
    )
}

fn prompt(playing: &PlayoutSession) -> String {
    use shakmaty::Position;
    let pos = playing.game().line().position();
    let dots = pos.turn().fold_wb(".", "...");
    let left = playing
        .left_ms()
        .map_or(String::new(), |ms| format!(" [{}]", text::clock(ms)));
    format!("{}{dots}{left} ", pos.fullmoves())
}

fn adjourned(playing: &PlayoutSession) -> String {
    if !playing.is_kept() {
        return tr!("\nNothing was played, so nothing is kept.\n").to_owned();
    }
    tr!(
        "\nAdjourned; it is kept. Go on with: foreply playout --resume {}\n",
        playing.id()
    )
}

fn over(app: &App, playing: &PlayoutSession) -> Result<(), Failure> {
    let game = playing.game();
    let end = game.end().map_or(String::new(), |e| e.words(game.side()));
    let outcome = game.outcome().map_or("", |o| o.word());
    let root = line::fen(game.line().root());
    let converted = if app.playouts().is_converted(&root, game.opened().level)? {
        tr!(" Won twice in a row: this position is converted.")
    } else {
        ""
    };
    print(&tr!(
        "\n{}\nThe game is over: {end} ({outcome}).{converted}\nSee where it slipped: foreply playout --account {}\n",
        board_text(game.line().position(), game.side()),
        playing.id()
    ))
}

/// True where the game goes on.
fn obey(playing: &mut PlayoutSession, text: &str, input: &mut Input<'_>) -> Result<bool, AppError> {
    match text {
        "help" | "?" => say(crate::translation::text(HELP))?,
        "board" => {
            let game = playing.game();
            say(&board_text(game.line().position(), game.side()))?;
        }
        _ => match GameCommand::read(text) {
            GameCommand::Nothing => {}
            GameCommand::Plan(words) => {
                playing.plan(words)?;
                say(tr!("Kept.\n"))?;
            }
            GameCommand::Write => write(playing, input)
                .map_err(|_| AppError::Line(tr!("what you wrote could not be kept").to_owned()))?,
            GameCommand::Draw => playing.offer_draw()?,
            GameCommand::Claim => playing.claim()?,
            GameCommand::Resign => playing.resign()?,
            GameCommand::Adjourn => {
                playing.adjourn()?;
                return Ok(false);
            }
            GameCommand::Move(text) => playing.play(text)?,
        },
    }
    Ok(true)
}

fn say(text: &str) -> Result<(), AppError> {
    print(text).map_err(|_| AppError::Line(tr!("standard output is closed").to_owned()))
}

/// Lines before the move: one a row, then the move itself, which is played.
fn write(playing: &mut PlayoutSession, input: &mut Input<'_>) -> Result<(), Failure> {
    let mut sitting = playing.write()?;
    sitting.start()?;
    print(tr!(
        "Your lines, one a row, with verdicts if you like (Nxe4 dxe4 Qxe4 +-). An empty row ends.\n"
    ))?;
    while let Some(row) = next(input)? {
        let row = row.trim().to_owned();
        if row.is_empty() {
            break;
        }
        let read = line_parser::read(&row);
        if let Some((bad, _)) = read.bad {
            print(&format!("{bad}\n"))?;
        } else if let Err(why) = sitting.write(NodeId::ROOT, &read.pieces) {
            print(&format!("{}\n", text::safe(&why.to_string())))?;
        }
    }
    loop {
        print(tr!("And the move you play: "))?;
        let Some(text) = next(input)? else {
            return Ok(());
        };
        match playing.play_written(&mut sitting, text.trim()) {
            Ok(()) => return Ok(()),
            Err(why @ (AppError::Line(_) | AppError::Attempt(_) | AppError::Game(_))) => {
                print(&format!("{}\n", text::safe(&why.to_string())))?;
            }
            Err(other) => return Err(other.into()),
        }
    }
}
