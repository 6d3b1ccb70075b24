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
//! * [`clock`]: where his time went; [`conversion`]: what became of his advantages.

mod add;
mod choose;
pub mod clock;
pub mod conversion;
mod drill;
mod fair;
mod kept;
pub mod moment;
mod name;
pub mod opening;
pub mod plan;
mod split;
pub mod structure;
pub mod survey;
mod time;
pub mod wording;
mod worth;

pub use add::{Added, Decide, Importer, Phantom, names_in};
pub use choose::choose;
pub use drill::drill;
pub use fair::may_be_going_on;
pub use kept::{Block, KeptGame, Marks, OwnGame, Player, Points};
pub use name::{Same, same as same_name};
pub use time::{Period, Times, periods};
pub use worth::Worth;

#[cfg(test)]
mod tests;
