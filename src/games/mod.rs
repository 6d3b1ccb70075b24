//! Own games: from a season of PGN to the moments worth calculating.
//!
//! Takes PGN in the import format of the standard of 1994 (as [`crate::tree::pgn`] reads it, with the clocks
//! of its supplement of 2001) and a judge; gives the player's games ([`OwnGame`]).
//!
//! * [`Importer`]: which games of a file are his, which are new, and what is wrong with the others.
//! * [`survey`]: what the judge says of every move of a game.
//! * [`moment`]: for which moves a reason holds to calculate there again; [`choose`]: which of them are
//!   worth a sitting; [`drill`]: the drill made of one.
//! * [`opening`]: his games by their first moves; [`structure`] and [`plan`]: the pawn structures that he keeps
//!   meeting, with his words for each.
//! * [`sheet`]: a score sheet typed from paper, and what it must have said where it does not fit.
//! * [`thoughts`]: what he thinks decided a game before any engine speaks of it, beside what did.
//! * [`account`]: one game on a page; [`event`]: a tournament or season, and what he takes away from it.
//! * [`opponent`]: what the games of the next opponent say, as counts.
//! * [`clock`]: where his time went; [`conversion`]: what became of his advantages.
//!
//! # Definitions
//!
//! `split.rs` cuts a stream into games without reading them, so memory is bounded by one game (4 MiB); only
//! games with the player's name are read in full, by the reader of written trees. Games of other players are
//! therefore counted but not checked. Two games are one when the players are the same, no known part of the dates
//! differs, and the moves of one begin the other's; the one that says more stays, under the first one's id.
//!
//! Definitions, where no source is named common practice without source:
//!
//! - **Time trouble**: less than five minutes in a game of an hour or more (from there the Laws excuse the player
//!   from keeping score: FIDE Laws of Chess 8.4, from memory); in shorter games a tenth of the first budget.
//! - **Stakes**: the spread of expected score among the three best moves and the played one.
//! - **Long think**: the longest fifth of his own thinks, two minutes at least; **fast**: the shortest fifth.
//!   Book (a position of three or more of his games), recaptures and forced moves are no thinks.
//! - **Reasons** of a moment: the doc comments of `moment.rs`, thresholds beside them.
//! - A recapture is a moment only where it was the wrong one.
//!
//! - **Openings** are told apart by their moves, not by positions; measured before the 13th and 21st move, from
//!   `game-worth` (scores that `judge_games` leaves behind, disposable), so that no engine is started for it.
//! - **Structure**: the key of `structure.rs`, the pawns of the files c, d and e of both sides.
//! - **Turning points** of four old games are held against their published ones (`tests/games/outside.rs`); Bernstein -
//!   Capablanca, 1914, needs the default of 20,000 nodes a position, 2,000 do not find 27.Nxc3. Not met: of Anderssen -
//!   Dufresne, 1852, the moment chosen is 20...Nxe7 and not 19...Qxf3, the first of two mistakes within three moves.
//!
//! Before the first question `review FILE.pgn` keeps each written tree with the time (table `read-notes`), whoever wrote
//! it; another tree under the same heading at the same position is told as changed and is no attempt from memory.

pub mod account;
mod add;
mod choose;
pub mod clock;
pub mod conversion;
mod drill;
pub mod event;
mod fair;
pub mod height;
mod kept;
pub mod moment;
mod name;
pub mod opening;
pub mod opponent;
pub mod plan;
pub mod sheet;
mod split;
pub mod structure;
pub mod survey;
pub mod thoughts;
pub mod time;
pub mod wording;
mod worth;

pub use add::{Added, Decide, Importer, Phantom, names_in};
pub use choose::choose;
pub use drill::drill;
pub use fair::may_be_going_on;
pub use kept::{Block, KeptGame, Marks, OwnGame, Player, Points, result, white_points};
pub use name::{Same, same as same_name, words as name_words};
pub use time::{Period, Times, periods};
pub use worth::GameScores;

#[cfg(test)]
mod tests;
