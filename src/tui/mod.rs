//! The screens: draw a state, turn keys into events. No rule of the game is in here.
//!
//! Takes an [`App`] and where to start; gives a player his sittings: look, write, commit, review.
//! [`run`] blocks until he leaves; [`console`] does the same on lines of text.
//!
//! Imports go one way: [`input`] and [`widgets`] know no screen, `forms` hold the dialogues that screens
//! and console share, `nav` is the contract, a screen in `screens` knows the contract and no other
//! screen, [`router`] alone makes screens, and [`terminal`] alone knows the terminal library.
//!
//! Before the commit nothing here tells whether a move is possible, let alone good: the tree shows
//! what was typed, and only a text that is no move of any kind is answered.

pub mod console;
mod forms;
pub mod input;
mod labels;
mod nav;
pub mod router;
mod screens;
pub mod terminal;
#[cfg(test)]
pub(crate) mod tests;
pub mod widgets;

use crate::app::{App, AppError, GameId};
use crate::attempt::BoardVisibility;
use crate::board::Line;
use crate::notation::Letters;

pub use nav::context::{ReportTexts, Touring};
pub use terminal::host::ScreenHost;

/// Minutes at hand where nothing else is said.
pub(crate) const MINUTES_AT_HAND: u32 = 20;

/// Where the screens begin.
#[derive(Debug, Clone)]
pub enum Start {
    /// What to practise; with an empty store the first drill.
    Home,
    /// A drill, by its identifier.
    Drill(String),
    /// A position with the game before it, where it is known.
    Position(Box<Line>),
    /// The first position that a coach has set and that is not done.
    Homework,
    /// The next position of quick calculation, of a ladder by its number or of his own.
    Quick(Option<u8>),
    /// A game that is played out: it goes on where it stands.
    Playout(GameId),
}

/// What may be chosen on the command line.
#[derive(Debug, Clone, Copy, Default)]
pub struct Options {
    /// Thinking time in minutes instead of the drill's own.
    pub minutes: Option<u32>,
    /// What of the board is seen while writing.
    pub sight: BoardVisibility,
    /// Seconds in which a position is only looked at before writing opens; without sight the board is
    /// hidden after them.
    pub look_s: Option<u32>,
    /// Letters instead of chess figures.
    pub ascii: bool,
    /// Whose piece letters are typed and shown.
    pub letters: Letters,
    /// When the tour is shown.
    pub tour: Touring,
}

/// The screens could not be shown, or had to stop.
#[derive(Debug, thiserror::Error)]
pub enum TuiError {
    #[error(
        "{}", tr!("no terminal to draw on: {0}; start foreply in a terminal window, write with `foreply practice --plain`, or use `foreply review FILE.pgn`", _0))]
    NoTerminal(String),
    #[error("{}", tr!("lines can no longer be read or written: {0}; what you wrote is kept", _0))]
    Lines(String),
    #[error("{}", tr!("nobody reads any more; what you wrote is kept"))]
    Gone,
    #[error(transparent)]
    App(#[from] AppError),
    #[error("{}", tr!("internal error: {0}; what you wrote is kept: start foreply again to go on", _0))]
    Panic(String),
}

impl TuiError {
    /// The exit code of the program.
    #[must_use]
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::NoTerminal(_) => 2,
            Self::App(AppError::Store(_)) => 4,
            Self::App(AppError::Judge(_)) => 3,
            Self::App(_) | Self::Lines(_) | Self::Gone => 1,
            Self::Panic(_) => 70,
        }
    }
}

/// Columns and rows of the terminal that the screens would be drawn on; `None` where there is none.
#[must_use]
pub fn terminal_size() -> Option<(u16, u16)> {
    terminal::event_loop::size()
}

/// Shows the screens until the player leaves.
///
/// # Errors
/// There is no terminal, the first screen cannot be opened, or the screens stopped by an internal
/// error; the terminal is given back in every case.
pub fn run(app: App, start: &Start, options: Options, texts: ReportTexts) -> Result<(), TuiError> {
    let variable = |name: &str| std::env::var(name).ok();
    terminal::event_loop::check(&variable)?;
    let host = ScreenHost::open(app, start, options, texts, &variable)?;
    let shown = terminal::event_loop::show(&host.router, host.colours);
    let closed = host.close();
    shown.and(closed.map_err(TuiError::App))
}
