//! `foreply games openings`: own games by their first moves.

use super::judging::judged;
use crate::app::{App, Openings};
use crate::cli::args::{Global, Openings as Args, Page, form};
use crate::cli::shell::error::print;
use crate::cli::shell::files::Target;
use crate::cli::{Failure, locate, open_app};
use crate::drill;
use crate::report::{self, games_openings as page};

pub(crate) fn run(global: &Global, args: &Args) -> Result<(), Failure> {
    let target = locate::target(global, args.output.as_deref(), &[])?;
    form::only(
        args.output.as_deref(),
        &["yaml", "yml"],
        tr!("drills as YAML"),
    )?;
    let app = open_app::writing(global)?;
    let written = match &args.output {
        Some(path) => Some(write(global, &app, args, (path, &target))?),
        None => None,
    };
    let openings = app.games().openings(usize::from(args.least))?;
    match args.format {
        Page::Json => print(&page::openings_json(&view(&openings)).map_err(Failure::input)?),
        Page::Html => print(&report::openings_html(&view(&openings)).map_err(Failure::input)?),
        Page::Text => {
            print(&page::openings(&view(&openings)))?;
            print(&written.unwrap_or_default())
        }
    }
}

fn view(openings: &Openings) -> page::Openings<'_> {
    page::Openings {
        games: &openings.games,
        sides: &openings.sides,
        all: &openings.all,
        judged: openings.judged,
        from_fen: openings.from_fen,
    }
}

/// Judges what is not judged, writes the drills, and says where they are.
fn write(
    global: &Global,
    app: &App,
    args: &Args,
    (path, target): (&std::path::Path, &Target),
) -> Result<String, Failure> {
    let (mut judged, settings) = judged(global, app, &args.judging)?;
    let openings = app.games().openings(usize::from(args.least))?;
    let branch = args.branch.map(usize::from);
    let drills = app
        .games()
        .opening_drills(&openings, branch, &mut judged, &settings)?;
    if drills.is_empty() {
        return Ok(tr!("No position to practise: in none were you worse or slow when the opening was over; --branch NUMBER takes those of one branch.\n").to_owned());
    }
    let text =
        drill::write(&drills).map_err(|e| Failure::input(format!("{}: {e}", path.display())))?;
    target.write(&text)?;
    let count = drills.len();
    let path = path.display();
    Ok(tr!(count;
        "\n{path} holds {count} position; `foreply practice {path}` opens it.\n"
        | "\n{path} holds {count} positions; `foreply practice {path}` opens it.\n"
    ))
}
