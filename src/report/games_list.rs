//! Own games as a list: what each is called, and what has become of it.

use std::fmt::Write;

use serde::Serialize;

use super::published::{Published, document_json};
use crate::games::{OwnGame, result};
use crate::text::{fit, safe};

/// A game of the list.
#[derive(Clone, Copy)]
pub struct GameRow<'a> {
    pub game: &'a OwnGame,
    /// His thoughts are begun; whether they are locked.
    pub thoughts: Option<bool>,
    pub judged: bool,
    pub going_on: bool,
}

impl GameRow<'_> {
    /// What has become of it, in a few words.
    #[must_use]
    pub fn state(&self) -> &'static str {
        match (self.going_on, self.thoughts, self.judged) {
            (true, ..) => tr!("may be going on"),
            (_, Some(false), _) => tr!("your thoughts are begun"),
            (_, Some(true), false) => tr!("your thoughts are locked"),
            (_, Some(true), true) => tr!("your thoughts are locked, judged"),
            (_, None, true) => tr!("judged"),
            (_, None, false) => "",
        }
    }
}

/// The list as text.
#[must_use]
pub fn games_list(rows: &[GameRow<'_>]) -> String {
    let mut out = String::new();
    for row in rows {
        let game = row.game;
        let colour = game.side.fold_wb(tr!("White"), tr!("Black"));
        let line = format!(
            "{}  {}  {colour}  {}  {}  {}",
            fit(&safe(&game.id), 16),
            fit(&safe(game.game.tag("Round").unwrap_or("-")), 5),
            fit(&safe(game.opponent()), 22),
            fit(result(&game.game).unwrap_or("*"), 7),
            row.state()
        );
        let _ = writeln!(out, "{}", line.trim_end());
    }
    out
}

#[derive(Serialize, schemars::JsonSchema)]
struct Row<'a> {
    id: &'a str,
    heading: String,
    date: &'a str,
    event: Option<&'a str>,
    round: Option<&'a str>,
    white: bool,
    opponent: &'a str,
    result: Option<&'a str>,
    points: Option<f64>,
    half_moves: usize,
    thoughts_begun: bool,
    thoughts_locked: bool,
    judged: bool,
    may_be_going_on: bool,
}

/// The own games with their names (`foreply games list --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    games: Vec<Row<'a>>,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-game-list";
}

/// The same, format `foreply-game-list`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn games_list_json(rows: &[GameRow<'_>]) -> Result<String, serde_json::Error> {
    let rows = rows.iter().map(|row| Row {
        id: &row.game.id,
        heading: row.game.heading(),
        date: row.game.date(),
        event: row.game.game.tag("Event"),
        round: row.game.game.tag("Round"),
        white: row.game.side.is_white(),
        opponent: row.game.opponent(),
        result: result(&row.game.game),
        points: row.game.points(),
        half_moves: row.game.plies(),
        thoughts_begun: row.thoughts.is_some(),
        thoughts_locked: row.thoughts == Some(true),
        judged: row.judged,
        may_be_going_on: row.going_on,
    });
    document_json(&Document {
        games: rows.collect(),
    })
}
