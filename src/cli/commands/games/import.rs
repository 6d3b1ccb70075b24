//! `foreply games add`: own games from a PGN file.

use std::fmt::Write;
use std::fs::File;
use std::io::{self, BufRead, IsTerminal, Read};
use std::path::Path;

use crate::app::{AppError, RememberedNotes, Whose};
use crate::cli::args::{AddGames, Global};
use crate::cli::shell::error::print;
use crate::cli::shell::progress_bar::Progress;
use crate::cli::{Failure, open_app};
use crate::games::Added;
use crate::text::{number, safe, whole};

/// Names that are listed where the player's is missing.
const NAMES_TOLD: usize = 12;

pub(super) fn run(global: &Global, args: &AddGames) -> Result<(), Failure> {
    let app = open_app::writing(global)?;
    let (stream, size) = stream(&args.file)?;
    let whose = Whose {
        player: args.player.clone(),
        also: args.also.clone(),
        not: args.not.clone(),
    };
    let bar = Progress::bytes(global.quiet, tr!("reading"), size);
    let mut ask = |name: &str| bar.pause(|| asked(name));
    let added = app
        .games()
        .add_games(stream, &whose, &mut ask, &mut |read| bar.reached(read));
    drop(bar);
    let name = args.file.display().to_string();
    let added = added.map_err(|e| match e {
        AppError::File(e) => Failure::input(format!("{name}: {e}")),
        AppError::WhoseGames => whose_games(&args.file),
        e => e.into(),
    })?;
    let remembered = app.games().remember_notes()?;
    print(&told(&added))?;
    print(&from_memory(remembered))?;
    let wrong = wrong(&added, &name);
    if wrong.is_empty() {
        Ok(())
    } else {
        Err(Failure::inputs(wrong))
    }
}

/// The bytes of a file and how many there are.
fn stream(path: &Path) -> Result<(Box<dyn Read>, u64), Failure> {
    if path.as_os_str() == "-" {
        return Ok((Box::new(io::stdin().lock()), 0));
    }
    let failed = |e: io::Error| {
        Failure::input(tr!(
            "{}: {e}; give a PGN file, or - for standard input",
            path.display()
        ))
    };
    let file = File::open(path).map_err(failed)?;
    let kind = file.metadata().map_err(failed)?;
    if kind.is_dir() {
        return Err(Failure::input(tr!(
            "{}: a folder; give a PGN file, or - for standard input",
            path.display()
        )));
    }
    let mut file = file;
    let mut mark = Vec::new();
    (&mut file).take(2).read_to_end(&mut mark).map_err(failed)?;
    if matches!(mark.as_slice(), [0xFF, 0xFE] | [0xFE, 0xFF]) {
        return Err(Failure::input(tr!(
            "{}: this file is UTF-16; save it as UTF-8 and add it again",
            path.display()
        )));
    }
    Ok((Box::new(io::Cursor::new(mark).chain(file)), kind.len()))
}

/// The names of a file, for a player who has not said which one is his.
fn whose_games(path: &Path) -> Failure {
    let names = match path.as_os_str() == "-" {
        true => Vec::new(),
        false => File::open(path)
            .map(crate::games::names_in)
            .unwrap_or_default(),
    };
    let mut message = tr!("whose games are they? Say it once with --player NAME").to_owned();
    list_names(&mut message, &names);
    Failure::usage(message)
}

fn list_names(message: &mut String, names: &[(String, usize)]) {
    if names.is_empty() {
        return;
    }
    message.push_str(tr!("; the names in the file:"));
    for (name, games) in names.iter().take(NAMES_TOLD) {
        let _ = write!(message, "\n  {} ({})", safe(name), of_games(*games));
    }
    if names.len() > NAMES_TOLD {
        let _ = write!(
            message,
            "{}",
            tr!("\n  and {} more", names.len() - NAMES_TOLD)
        );
    }
}

fn of_games(count: usize) -> String {
    tr!(count; "{} game" | "{} games", whole(count))
}

/// Asks at the terminal whether a name is the player's; `None` where nobody can answer.
fn asked(name: &str) -> Option<bool> {
    if !io::stdin().is_terminal() || !io::stderr().is_terminal() {
        return None;
    }
    loop {
        eprint!("{}", tr!("Is '{}' you? [y/n] ", safe(name)));
        let mut answer = String::new();
        if io::stdin().lock().read_line(&mut answer).ok()? == 0 {
            return None;
        }
        match answer.trim() {
            "y" | "Y" | "yes" => return Some(true),
            "n" | "N" | "no" => return Some(false),
            _ => {}
        }
    }
}

/// What was taken in, in sentences.
fn told(added: &Added) -> String {
    let mut out = tr!("{} read: ", of_games(added.games));
    let mut parts = vec![tr!("{} new of yours", number(added.new))];
    let more = [
        (added.known, tr!("there already")),
        (added.better, tr!("there with less, now replaced")),
        (added.others, tr!("of other players")),
        (added.empty, tr!("without a move")),
        (added.refused, tr!("refused")),
    ];
    for (count, what) in more.iter().filter(|m| m.0 > 0) {
        parts.push(format!("{} {what}", number(*count)));
    }
    let _ = writeln!(out, "{}.", parts.join(", "));
    let came = added.new + added.better;
    if came > 0 {
        let without = came - added.with_clock;
        if added.with_clock == 0 {
            out.push_str(tr!(
                "No clock times in them: all that is about time will be missing.\n"
            ));
        } else if without > 0 {
            let _ = writeln!(
                out,
                "{}",
                tr!("{} of them without clock times.", of_games(without))
            );
        }
        if added.with_notes > 0 {
            let _ = writeln!(
                out,
                "{}",
                tr!("{} with variations of yours.", of_games(added.with_notes))
            );
        }
    }
    for phantom in &added.phantoms {
        let _ = writeln!(
            out,
            "{}",
            tr!(
                "line {}, column {} (game {}): '{}' in a variation is not possible: {}; it is kept as you wrote it",
                phantom.line,
                phantom.column,
                phantom.game,
                safe(&phantom.text),
                safe(&phantom.why)
            )
        );
    }
    out
}

fn what_you_wrote(trees: usize) -> String {
    tr!(trees; "What you wrote at one move is" | "What you wrote at {} moves is", number(trees))
}

fn from_memory(remembered: RememberedNotes) -> String {
    let mut out = String::new();
    if remembered.new > 0 {
        let _ = writeln!(
            out,
            "{}",
            tr!(
                "{} now attempts from memory, locked and counted apart; `foreply review last` reviews the last of them.",
                what_you_wrote(remembered.new)
            )
        );
    }
    if remembered.late > 0 {
        let _ = writeln!(
            out,
            "{}",
            tr!(
                "{} more came after the judge had spoken of the game: they are kept in it, but are no attempts.",
                remembered.late
            )
        );
    }
    out
}

/// What keeps the exit code from being 0.
fn wrong(added: &Added, file: &str) -> Vec<String> {
    let mut wrong: Vec<String> = added
        .refusals
        .iter()
        .map(|e| format!("{file}: {e}"))
        .collect();
    if added.refused > added.refusals.len() {
        let more = added.refused - added.refusals.len();
        wrong.push(tr!("{file}: {} more refused", of_games(more)));
    }
    for (name, games) in &added.unsure {
        wrong.push(tr!(
            "{file}: is '{name}' you ({})? Add the file again with --also \"{name}\" or --not \"{name}\"",
            of_games(*games)
        ));
    }
    let none = added.new + added.known + added.better + added.refused == 0;
    if none && added.unsure.is_empty() {
        let mut message = tr!("{file}: no game of yours in {}", of_games(added.games));
        list_names(&mut message, &added.names);
        wrong.push(message);
    }
    wrong
}
