//! Things that commands are given by name: drills, attempts, games, files.

use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use crate::app::{App, Asked, AttemptId, GameId, NOTES_MAX};
use crate::cli::args::{Global, Page, PageTarget};
use crate::cli::shell::error::Failure;
use crate::cli::shell::files::Target;
use crate::drill::{self, Drill, DrillError};
use crate::notation::Letters;

pub(crate) fn built_in() -> Result<&'static [Drill], Failure> {
    drill::builtin().map_err(wrong_drills)
}

pub(crate) fn wrong_drills(errors: &[DrillError]) -> Failure {
    Failure::inputs(errors.iter().map(ToString::to_string).collect())
}

/// The drills of a file.
pub(crate) fn drills_of(path: &Path) -> Result<Vec<Drill>, Failure> {
    drill::load_file(path).map_err(|errors| wrong_drills(&errors))
}

/// The name of a drill: that of the collection by its number (from 1), or the name as it is, which may be one that
/// the user added.
pub(crate) fn drill(text: &str) -> Result<String, Failure> {
    match text.parse::<usize>() {
        Ok(_) => Ok(drill_of_collection(text)?.id.clone()),
        Err(_) => Ok(text.to_owned()),
    }
}

/// A drill of the collection by its number, any other by its name.
pub(crate) fn drill_in(app: &App, text: &str) -> Result<Drill, Failure> {
    if text.parse::<usize>().is_ok() {
        return drill_of_collection(text).cloned();
    }
    Ok(app.drills().find(text)?.1.clone())
}

/// The attempt of that name, short or whole, or the newest one for 'last'.
pub(crate) fn attempt(app: &App, what: &str) -> Result<AttemptId, Failure> {
    Ok(app.attempts().named(what)?)
}

/// The bytes of a PGN file, or of standard input.
pub(crate) fn notes_file(what: &str) -> Result<Vec<u8>, Failure> {
    let failed = |e: io::Error| {
        Failure::input(tr!(
            "{what}: {e}; give a PGN file, - for standard input, or the name of an attempt"
        ))
    };
    let mut bytes = Vec::new();
    if what == "-" {
        io::stdin()
            .lock()
            .take(NOTES_MAX + 1)
            .read_to_end(&mut bytes)
            .map_err(failed)?;
    } else {
        let file = File::open(what).map_err(failed)?;
        if !file.metadata().map_err(failed)?.is_file() {
            return Err(Failure::input(tr!(
                "{what}: not a regular file; give a PGN file, or - for standard input"
            )));
        }
        file.take(NOTES_MAX + 1)
            .read_to_end(&mut bytes)
            .map_err(failed)?;
    }
    if bytes.len() as u64 > NOTES_MAX {
        return Err(Failure::input(tr!(
            "{what}: larger than {} MiB; split it",
            NOTES_MAX >> 20
        )));
    }
    Ok(bytes)
}

/// The bytes of a PGN file of somebody's own notes, in which moves may have the chosen letters; what the standard says of a
/// move goes first.
pub(crate) fn own_notes(what: &str) -> Result<Vec<u8>, Failure> {
    let bytes = notes_file(what)?;
    let letters = super::letters::chosen();
    if letters == Letters::English {
        return Ok(bytes);
    }
    let text = crate::tree::pgn::decode(&bytes);
    Ok(letters.typed_pgn(&text).into_owned().into_bytes())
}

/// The PGN files of a folder in the order of their names.
pub(crate) fn pgn_files(folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let failed = |e: io::Error| Failure::input(format!("{}: {e}", folder.display()));
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(failed)? {
        let path = entry.map_err(failed)?.path();
        if path
            .extension()
            .is_some_and(|e| e.eq_ignore_ascii_case("pgn"))
        {
            files.push(path);
        }
    }
    if files.is_empty() {
        let what = folder.display();
        return Err(Failure::input(tr!(
            "{what}: no PGN file (.pgn) in this folder"
        )));
    }
    files.sort();
    Ok(files)
}

/// The texts of several PGN files.
pub(crate) fn texts(files: &[String]) -> Result<Vec<String>, Failure> {
    let one = |file: &String| Ok(crate::tree::pgn::decode(&notes_file(file)?).into_owned());
    files.iter().map(one).collect()
}

pub(crate) fn drill_of_collection(text: &str) -> Result<&'static Drill, Failure> {
    let drills = built_in()?;
    let number = text.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    let found = match number {
        Some(at) => drills.get(at),
        None => drills.iter().find(|d| d.id == text),
    };
    found.ok_or_else(|| {
        Failure::input(tr!(
            "there is no drill '{text}'; `foreply drills list` shows them"
        ))
    })
}

/// Where a command's output goes; `inputs` are the files it reads.
pub(crate) fn target(
    global: &Global,
    output: Option<&Path>,
    inputs: &[&Path],
) -> Result<Target, Failure> {
    let home = global.home()?;
    let asked = Asked {
        home: &home,
        inputs,
        force: global.force,
    };
    Target::of(output, &asked)
}

/// Where a page goes, and as what.
pub(crate) fn page(global: &Global, asked: &PageTarget) -> Result<(Target, Page), Failure> {
    let output = asked.output.as_deref();
    Ok((
        target(global, output, &[])?,
        Page::asked(asked.format, output)?,
    ))
}

/// The game of that name; 'last' is the newest that is over, or that is not.
pub(crate) fn game(app: &App, name: &str, over: bool) -> Result<GameId, Failure> {
    if name != "last" {
        return Ok(app.attempts().named_game(name)?);
    }
    let games = app.playouts().games_played_out()?;
    let found = games.into_iter().find(|(_, g)| g.outcome.is_some() == over);
    found.map(|(id, _)| id).ok_or_else(|| {
        let what = if over {
            tr!("finished")
        } else {
            tr!("adjourned")
        };
        Failure::input(tr!(
            "there is no {what} game; `foreply playout --ladder` shows positions to begin with"
        ))
    })
}
