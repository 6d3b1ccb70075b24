//! `foreply coach`: attempts out to a coach, and his answer back in.

use crate::app::{App, AppError, AttemptId, CoachAnswer};
use crate::cli::args::{Coach, Format, Global, Send, Take};
use crate::cli::shell::error::print;
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, locate, open_app};
use crate::coach::CoachImport;
use crate::report;

pub(crate) fn run(global: &Global, command: &Coach) -> Result<(), Failure> {
    match command {
        Coach::Send(args) => send(global, args),
        Coach::Take(args) => take(global, args),
    }
}

/// All attempts in one file; they count as sent once it is written.
fn send(global: &Global, args: &Send) -> Result<(), Failure> {
    let target = locate::target(global, Some(&args.output), &[])?;
    let app = open_app::reading(global)?;
    let mut sendings = Vec::new();
    for what in &args.attempts {
        let id = locate::attempt(&app, what)?;
        let bar = Progress::new(global.quiet, &format!("attempt {id}"));
        let player = args.player.as_deref();
        sendings.push(
            app.coach()
                .letter(&id, player, args.with_review, &mut |done, all| {
                    bar.show(done, all);
                })?,
        );
    }
    let pgn: Vec<&str> = sendings.iter().map(|s| s.pgn.as_str()).collect();
    target.write(&pgn.join("\n"))?;
    let number = sendings.len();
    for sending in sendings {
        match app.coach().sent(sending) {
            // The letter is there: that is what was asked for.
            Err(AppError::Store(why)) => global.tell(&[format!(
                "that it went out could not be noted ({why}); the file is complete"
            )]),
            noted => noted?,
        }
    }
    let s = if number == 1 { "" } else { "s" };
    global.tell(&[format!(
        "{number} attempt{s} written to {}; what comes back goes in with 'foreply coach take FILE.pgn'",
        args.output.display()
    )]);
    Ok(())
}

/// What can be taken of the file is taken; the rest is told with its place.
fn take(global: &Global, args: &Take) -> Result<(), Failure> {
    let app = open_app::reading(global)?;
    let bytes = locate::notes_file(&args.file)?;
    let to = args.attempt.as_deref();
    let to = to.map(|what| locate::attempt(&app, what)).transpose()?;
    let answers = app
        .coach()
        .answers(&bytes, args.by.as_deref(), to.as_ref())?;
    if answers.is_empty() {
        return Err(Failure::input(format!("{}: no game in it", args.file)));
    }
    let mut errors = Vec::new();
    let mut taken = Vec::new();
    for answer in &answers {
        match answer {
            CoachAnswer::Taken(t) => taken.push(t),
            CoachAnswer::Refused { number, line, why } => errors.push(format!(
                "{}: line {line} (game {number}): nothing taken: {why}",
                args.file
            )),
            CoachAnswer::Unreadable(e) => errors.push(format!("{}: {e}", args.file)),
        }
    }
    if !args.dry_run {
        keep(global, &app, &taken)?;
    }
    match args.format {
        Format::Json => print(&report::taken_json(&taken).map_err(Failure::input)?)?,
        _ => print(&taken.iter().map(|t| report::taken(t)).collect::<String>())?,
    }
    if errors.is_empty() {
        Ok(())
    } else {
        Err(Failure::inputs(errors))
    }
}

/// Reviews whose findings were ruled on are computed again, so that every figure follows.
fn keep(global: &Global, app: &App, taken: &[&CoachImport]) -> Result<(), Failure> {
    for taken in taken {
        if app.coach().keep_taken(taken)? {
            let bar = Progress::new(global.quiet, "comparing again");
            let id = AttemptId(taken.attempt.clone());
            app.reviews()
                .review(&id, &mut |done, all| bar.show(done, all))?;
        }
    }
    Ok(())
}
