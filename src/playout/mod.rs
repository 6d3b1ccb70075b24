//! Playing a position out: one side is the player's, the other the engine's, until the game is over.
//!
//! Takes a position, a level and a clock; gives a [`Game`], the state that follows from a log of
//! [`TimedPlayoutEvent`]s as a sitting's does; the opponent's [`reply`], which prefers among its good moves the one
//! that sets the most problems; and afterwards an [`Account`]: where the expected score went, move by
//! move, and what the player wrote or did not write when it did.
//!
//! # The opponent and the account
//!
//! `foreply playout` keeps a game as a log of events (`event.rs`) and folds it as a sitting is folded.
//! The opponent (`opponent.rs`) plays, among the moves within its level's margin of the best, the one
//! that sets the most problems: after which the replies that look best at a glance give away the most. A level is
//! nodes, an error of judgement and a margin (`level.rs`); it works with any UCI engine, since the
//! choice is made here and not by the engine's own strength option. Draws follow the FIDE Laws (5.2, 6.9, 9.2,
//! 9.3, 9.6); the engine agrees to a draw where its own expected score is at most one half, and resigns after eight
//! moves at .02 or less while more than six men are on the board. A game is not judged before it is over.
//!
//! The account asks for every position of the game; a decision is told where the better move and the one
//! played, each searched alone with four times the nodes, differ by delta. A *drift* is .15 lost over at most
//! ten moves without such a decision. A position is converted when the last two games from it at one level
//! were won. Where he wrote nothing, a decision is told by what came after it and what was there instead; a result that
//! no move gave away (he resigned, agreed to a draw, overstepped the time) is told by the last position.

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

pub use account::{Account, Plan as AccountPlan, StalemateFrom, account, score_sheet, start};
pub use course::Move as AccountMove;
pub use end::{End, Outcome};
pub use event::{ClockSet, Goal, Opened, PlayoutEvent, Side, TimedPlayoutEvent};
pub use game::{Game, GameError, PlayedMove};
pub use level::{Level, LevelError};
pub use moments::{Chance, Drift, Moment, Simpler};
pub use opponent::{Reply, accepts_draw, reply, resigns};
