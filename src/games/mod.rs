//! Own games: from a season of PGN to the moments worth calculating.
//!
//! Takes PGN in the import format of the standard of 1994 (as [`crate::tree::pgn`] reads it, with the clocks
//! of its supplement of 2001) and a judge; gives the player's games ([`OwnGame`]).
//!
//! * [`Importer`]: which games of a file are his, which are new, and what is wrong with the others.

mod add;
mod kept;
mod name;
mod split;
mod time;

pub use add::{Added, Decide, Importer, Phantom, names_in};
pub use kept::{Block, KeptGame, Marks, OwnGame, Player, Points};
pub use name::{Same, same as same_name};
pub use time::{Period, Times, periods};
