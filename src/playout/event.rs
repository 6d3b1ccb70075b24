//! What can happen in a game that is played out.

use serde::{Deserialize, Serialize};

use super::Level;
use crate::attempt::Origin;
use crate::store::Record;

/// One thing that happened, with its time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TimedPlayoutEvent {
    /// Milliseconds of playing time: since the game was opened, without the time between a crash (or
    /// an adjournment) and the resumption. Never decreases along a log.
    pub at_ms: u64,
    pub what: PlayoutEvent,
}

impl Record for TimedPlayoutEvent {
    const TABLE: &'static str = "playouts";
    const VERSION: u32 = 1;
}

/// The kinds of event. Stored by name: names may be added, never changed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "event")]
pub enum PlayoutEvent {
    /// The first event of every log, and only the first.
    Opened(Opened),
    /// A move in UCI notation, of the side whose turn it was. `expected` is what the engine thought its
    /// own move was worth to it; absent for the player's moves.
    Moved { uci: String, expected: Option<f64> },
    /// The player's plan in his own words, from here on.
    Planned { text: String },
    /// He wrote candidates and lines here: the sitting of that name.
    Thought { sitting: String },
    /// He offered a draw with the position as it stands.
    DrawOffered,
    /// The engine's answer to the offer.
    DrawAnswered { agreed: bool },
    /// He claimed a draw under article 9.2 or 9.3 for the position as it stands.
    Claimed,
    /// He resigned.
    Resigned,
    /// The engine resigned.
    EngineResigned,
    /// His time was over.
    FlagFell,
    /// The game was interrupted by him; the clock stands.
    Adjourned,
    /// The game was taken up again, after an adjournment or the end of the program.
    Resumed,
    /// Time went by; written now and then, so that a crash gives him no time as a present.
    Ran,
}

/// The circumstances of a game, fixed when it is opened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Opened {
    /// Where the position comes from.
    pub origin: Origin,
    /// The position in which the known moves start (FEN).
    pub start_fen: String,
    /// The moves from there to the position that is played out, in UCI notation.
    pub past: Vec<String>,
    /// The player's side.
    pub side: Side,
    pub goal: Goal,
    pub level: Level,
    /// `None` for no clock.
    pub clock: Option<ClockSet>,
    /// He wants to write before every so many moves of his; `None` for only when he asks for it.
    pub write_every: Option<u32>,
    /// Seed of the engine's whims at lower levels.
    pub seed: u64,
    /// Wall-clock time of opening, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
}

/// A side of the board.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    White,
    Black,
}

impl From<shakmaty::Color> for Side {
    fn from(color: shakmaty::Color) -> Self {
        color.fold_wb(Self::White, Self::Black)
    }
}

impl From<Side> for shakmaty::Color {
    fn from(side: Side) -> Self {
        match side {
            Side::White => Self::White,
            Side::Black => Self::Black,
        }
    }
}

/// What the player is to reach.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Goal {
    /// To win.
    Win,
    /// To draw, or to be still playing after so many moves of his.
    Hold { moves: u32 },
}

/// Thinking time of the player (FIDE Laws, article 6.2 and guideline III: time with an increment). The
/// engine's moves take none of it, and the engine has no clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct ClockSet {
    pub base_ms: u64,
    pub increment_ms: u64,
}
