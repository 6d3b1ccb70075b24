//! `foreply games list`: own games with their names.

use crate::cli::args::{Format, Global, ListGames};
use crate::cli::shell::error::print;
use crate::cli::{Failure, open_app};
use crate::report::{self, GameRow};

pub(super) fn run(global: &Global, args: &ListGames) -> Result<(), Failure> {
    let app = open_app::reading(global)?;
    let games = app.games().listed_games()?;
    if games.is_empty() {
        return Err(crate::app::AppError::NoGames.into());
    }
    let rows: Vec<GameRow<'_>> = games
        .iter()
        .map(|g| GameRow {
            game: &g.game,
            thoughts: g.thoughts,
            judged: g.judged,
            going_on: g.going_on,
        })
        .collect();
    match args.format {
        Format::Text => print(&report::games_list(&rows)),
        Format::Json => print(&report::games_list_json(&rows).map_err(Failure::input)?),
    }
}
