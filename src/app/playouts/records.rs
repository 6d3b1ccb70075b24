//! What the store keeps of a game that is played out, and how one is to be played.

use serde::{Deserialize, Serialize};

use crate::attempt::Origin;
use crate::board::Line;
use crate::playout::{self, ClockSet, Game, Goal, Level, Outcome};
use crate::store::Record;

/// The name of a game. Names sort in the order in which the games were opened.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct GameId(pub String);

impl std::fmt::Display for GameId {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// One game in short: all that the list of games shows, and what conversion is counted from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct GameSummary {
    /// Wall-clock time of opening, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    pub origin: Origin,
    /// The position that was played out (FEN).
    pub root: String,
    pub side: playout::Side,
    pub goal: Goal,
    pub level: Level,
    pub clocked: bool,
    /// Moves the player has made.
    pub moves: usize,
    /// `None` while it goes on.
    pub outcome: Option<Outcome>,
    /// Expected score of the player at the root; `None` until the account was made.
    pub start: Option<f64>,
}

impl Record for GameSummary {
    const TABLE: &'static str = "playout-summaries";
    const VERSION: u32 = 1;
}

/// How a game is to be played.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlayoutTerms {
    /// The player's side; `None` for the side to move.
    pub side: Option<playout::Side>,
    pub goal: Goal,
    pub level: Level,
    pub clock: Option<ClockSet>,
    /// He wants to write before every so many moves of his.
    pub write_every: Option<u32>,
}

/// As [`super::service::PlayoutService::is_converted`], for games that are at hand, the newest first.
#[must_use]
pub fn converted(games: &[(GameId, GameSummary)], root: &str, level: Level) -> bool {
    let of_it = games
        .iter()
        .filter(|(_, g)| g.root == root && g.level == level);
    let last: Vec<Outcome> = of_it.filter_map(|(_, g)| g.outcome).take(2).collect();
    last == [Outcome::Won, Outcome::Won]
}

/// The position after so many moves of a game, with all that was played before it.
pub(crate) fn rooted(game: &Game, ply: usize) -> Line {
    let mut line = game.line().clone();
    while line.ply() > ply && line.pop().is_some() {}
    line.rooted_here()
}
