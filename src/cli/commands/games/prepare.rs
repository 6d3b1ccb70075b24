//! `foreply games prepare`: the lines he had prepared, so that the account of a game tells where it left them.

use std::path::Path;

use crate::app::AppError;
use crate::cli::args::{Global, Prepare, Side};
use crate::cli::shell::error::print;
use crate::cli::{Failure, locate, open_app};
use crate::text::safe;

pub(super) fn run(global: &Global, args: &Prepare) -> Result<(), Failure> {
    let app = open_app::writing(global)?;
    if let Some(name) = &args.remove {
        app.games().unprepare(name)?;
        return print(&tr!("'{}' is no longer kept.\n", safe(name)));
    }
    if let (Some(file), Some(side)) = (&args.file, args.side) {
        let bytes = locate::notes_file(file)?;
        let text = crate::tree::pgn::decode(&bytes);
        let name = name_of(file);
        let kept = app.games().prepare(&name, side == Side::White, &text);
        let games = kept.map_err(|e| match e {
            AppError::Prepared(why) => Failure::input(format!("{file}: {why}")),
            e => e.into(),
        })?;
        return print(&tr!(games;
            "{games} line is kept as '{}'; `foreply games account` tells where a game left them.\n"
            | "{games} lines are kept as '{}'; `foreply games account` tells where a game left them.\n",
            safe(&name)
        ));
    }
    let prepared = app.games().prepared()?;
    if prepared.is_empty() {
        return print(tr!(
            "No prepared lines are kept; add some: foreply games prepare FILE.pgn --side white\n"
        ));
    }
    let rows = prepared.iter().map(|(name, lines)| {
        let side = if lines.white {
            tr!("White")
        } else {
            tr!("Black")
        };
        tr!("{}  for {side}\n", safe(name))
    });
    print(&rows.collect::<String>())
}

/// What a file is kept as: its own name without folder and ending, a hyphen for what the store's names cannot hold.
fn name_of(file: &str) -> String {
    let stem = Path::new(file).file_stem().and_then(|s| s.to_str());
    match stem {
        Some(stem) if file != "-" && !stem.is_empty() => {
            let odd = |c: char| c.is_whitespace() || c.is_control();
            stem.chars()
                .map(|c| if odd(c) { '-' } else { c })
                .take(100)
                .collect()
        }
        _ => "standard-input".to_owned(),
    }
}
