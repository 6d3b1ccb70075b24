//! What every screen is given.

use jiff::tz::TimeZone;

use crate::app::{App, EventRead, GameAccountRead, ThoughtsRead};
use crate::attempt::BoardVisibility;
use crate::games::opponent::OpponentFacts;
use crate::games::sheet::{Fitted, Sheet};
use crate::notation::Letters;
use crate::playout::Account;
use crate::progress::Report;
use crate::progress::quick::Quick;
use crate::tui::widgets::board::Glyphs;

/// What the screens need to know of the world.
pub struct Context {
    pub app: App,
    pub display: DisplayOptions,
    pub new_attempts: NewAttemptOptions,
    pub texts: ReportTexts,
}

/// How whole reports are told as text. Whoever opens the screens gives it: the words are those of the
/// commands, which the screens do not know.
#[derive(Debug, Clone, Copy)]
pub struct ReportTexts {
    /// What all attempts say together.
    pub progress: fn(&Report) -> String,
    /// What calculation at speed comes to.
    pub quick: fn(&Quick) -> String,
    /// The account of a game that was played out.
    pub account: fn(&Account) -> String,
    /// His thoughts on a game beside what decided it.
    pub thoughts: fn(&ThoughtsRead) -> String,
    /// How each figure is made.
    pub method: fn() -> String,
    /// What the games of an opponent say.
    pub opponent: fn(&OpponentFacts) -> String,
    /// The game of a score sheet as PGN.
    pub sheet: fn(&Sheet, &Fitted) -> String,
    /// The account of an event.
    pub event: fn(&EventRead) -> String,
    /// The account of an own game.
    pub own_game: fn(&GameAccountRead) -> String,
    /// The same, half-move by half-move: what is said of each.
    pub own_game_stops: fn(&GameAccountRead) -> Vec<(usize, String)>,
}

/// How things are shown.
pub struct DisplayOptions {
    pub glyphs: Glyphs,
    /// Whose piece letters are typed and shown.
    pub letters: Letters,
    /// For dates.
    pub zone: TimeZone,
    pub tour: Touring,
}

/// What holds for sittings that are begun from here.
#[derive(Debug, Clone, Copy, Default)]
pub struct NewAttemptOptions {
    pub minutes: Option<u32>,
    pub sight: BoardVisibility,
    /// Seconds in which the position is only looked at; `None` where writing may begin at once.
    pub look_s: Option<u32>,
}

/// When the tour is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Touring {
    /// Never by itself.
    #[default]
    Never,
    /// When nothing was ever written, and it was not shown before.
    Once,
    /// From the start on.
    Now,
}
