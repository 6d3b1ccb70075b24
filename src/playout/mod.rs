//! Playing a position out: one side is the player's, the other the engine's, until the game is over.
//!
//! Takes a position, a level and a clock; gives a [`Game`], the state that follows from a log of
//! [`Event`]s as a sitting's does; the opponent's [`reply`], which prefers among its good moves the one
//! that sets the most problems; and afterwards an [`Account`]: where the expected score went, move by
//! move, and what the player wrote or did not write when it did.

mod account;
mod course;
mod end;
mod event;
mod game;
mod level;
mod moments;
mod opponent;
#[cfg(test)]
mod tests;

pub use account::{Account, account, score_sheet, start};
pub use course::Move as AccountMove;
pub use end::{End, Outcome};
pub use event::{ClockSet, Event, Goal, Opened, Side, What};
pub use game::{Game, GameError, PlayedMove};
pub use level::{Level, LevelError};
pub use moments::{Chance, Drift, Moment, Simpler};
pub use opponent::{Reply, accepts_draw, reply, resigns};
