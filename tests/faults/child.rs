//! The one who is killed: sittings and reviews one after the other, each acknowledgement told.

use std::io::Write;
use std::path::Path;
use std::sync::Arc;

use foreply::app::{App, AttemptSession, EntryToken, Subject, SystemClock};
use foreply::attempt::BoardVisibility;
use foreply::board::{Line, line};
use foreply::judge::FixedJudge;
use foreply::review::Settings;
use foreply::tree::NodeId;
use shakmaty::Position;
use shakmaty::san::SanPlus;

const START: &str = "rnbqkbnr/ppp1pppp/8/3p4/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 2";
const LINES: [&str; 4] = [
    "e4 dxe4 Nc3 Nf6",
    "d4 Nf6 Nf3 g6 c4",
    "Nf3 c5 g3",
    "c4 e6 Qa4+ c6 cxd5",
];

/// The first legal moves of any position, the first the best.
fn first_moves(line: &Line) -> Vec<(String, f64)> {
    let position = line.position();
    let legal = position.legal_moves();
    let moves = legal.iter().take(2).zip([0.55, 0.5]);
    moves
        .map(|(mv, worth)| (SanPlus::from_move(position.clone(), mv).to_string(), worth))
        .collect()
}

/// Sits until it is killed, or until the store refuses: `event ATTEMPT COUNT` after each call that has returned.
pub fn sittings(home: &Path) {
    let judge = Arc::new(FixedJudge::new(first_moves));
    let clock = Arc::new(SystemClock::new());
    let opened = App::with_parts(home, judge, Vec::new(), Settings::default(), clock);
    let app = match opened {
        Ok(app) => app,
        Err(e) => return eprintln!("{e}"),
    };
    loop {
        if let Err(e) = sitting(&app) {
            return eprintln!("{e}");
        }
    }
}

/// One sitting to the lock, and its end; false where the store refused.
pub fn once(home: &Path) -> bool {
    let judge = Arc::new(FixedJudge::new(first_moves));
    let clock = Arc::new(SystemClock::new());
    let opened = App::with_parts(home, judge, Vec::new(), Settings::default(), clock);
    let done = opened.and_then(|app| locked(&app).map(|_| ()));
    if let Err(e) = &done {
        eprintln!("{e}");
    }
    done.is_ok()
}

fn sitting(app: &App) -> Result<(), foreply::app::AppError> {
    let sitting = locked(app)?;
    app.reviews().review(sitting.id(), &mut |_, _| {})?;
    say(&format!("reviewed {}", sitting.id()));
    Ok(())
}

fn locked(app: &App) -> Result<AttemptSession, foreply::app::AppError> {
    let root = Line::new(line::read_fen(START).unwrap());
    let mut sitting =
        app.attempts()
            .open_sitting(&Subject::Position(root), Some(5), BoardVisibility::Root)?;
    sitting.start()?;
    tell(&sitting);
    for text in LINES {
        let mut at = NodeId::ROOT;
        for word in text.split(' ') {
            let words = [EntryToken::Move(word.to_owned())];
            let tried = sitting.write(at, &words);
            // As somebody would who sees that it has failed: he presses the key once more.
            at = tried.or_else(|e| {
                eprintln!("{e}");
                sitting.write(at, &words)
            })?;
            tell(&sitting);
        }
    }
    let first = sitting.tree().children(NodeId::ROOT)[0];
    sitting.choose(first)?;
    tell(&sitting);
    sitting.lock()?;
    tell(&sitting);
    Ok(sitting)
}

fn tell(sitting: &AttemptSession) {
    say(&format!(
        "event {} {}",
        sitting.id(),
        sitting.attempt().log().len()
    ));
}

fn say(line: &str) {
    let mut out = std::io::stdout().lock();
    // The parent is gone: nothing is acknowledged any more.
    if writeln!(out, "{line}").and_then(|()| out.flush()).is_err() {
        std::process::exit(1);
    }
}
