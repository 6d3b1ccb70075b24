//! `foreply games sheet`: a score sheet typed from paper becomes a game.

use std::path::Path;

use crate::cli::args::{Format, Global, ScoreSheet, form};
use crate::cli::shell::error::print;
use crate::cli::{Failure, letters, locate};
use crate::games::sheet::{self, Fitted, Repair};
use crate::report;

pub(super) fn run(global: &Global, args: &ScoreSheet) -> Result<(), Failure> {
    let target = locate::target(global, args.output.as_deref(), &[Path::new(&args.file)])?;
    form::only(args.output.as_deref(), &["pgn"], tr!("a game in PGN"))?;
    let bytes = locate::notes_file(&args.file)?;
    let text = crate::tree::pgn::decode(&bytes);
    let text = letters::chosen().typed(&text);
    let sheet = sheet::read(&text).map_err(|e| Failure::input(format!("{}: {e}", args.file)))?;
    let fitted = sheet::fit(&sheet);
    let chosen = chosen(&fitted, args)?;
    let done = fitted.misfit.is_none() || chosen.is_some() || args.as_far;
    // The text goes where the game does not.
    if args.output.is_some() || !done {
        let told = match args.format {
            Format::Text => report::sheet_text(&sheet, &fitted),
            Format::Json => report::sheet_json(&sheet, &fitted).map_err(Failure::input)?,
        };
        print(&told)?;
    } else if args.format == Format::Json {
        return print(&report::sheet_json(&sheet, &fitted).map_err(Failure::input)?);
    }
    if !done {
        return Err(Failure::input(tr!(
            "{}: nothing was written; choose a reading with --repair N, write the game up to there with --as-far, or \
             mend the sheet",
            args.file
        )));
    }
    target.write(&report::sheet_pgn(&sheet, &fitted, chosen))
}

fn chosen<'a>(fitted: &'a Fitted, args: &ScoreSheet) -> Result<Option<&'a Repair>, Failure> {
    let Some(number) = args.repair else {
        return Ok(None);
    };
    let at = usize::from(number) - 1;
    fitted.repairs.get(at).map(Some).ok_or_else(|| {
        let there = match fitted.repairs.len() {
            0 if fitted.misfit.is_none() => tr!("the sheet fits as it stands").to_owned(),
            0 => tr!("there is none").to_owned(),
            n => tr!("there are {n}"),
        };
        Failure::input(tr!("{}: no reading {number}: {there}", args.file))
    })
}
