//! The player's own games.
//!
//! Takes PGN and his name; gives the games, their moments as drills, the clock's account, openings and plan cards
//! ([`service`], [`openings`], [`advantage`]). [`memory_notes`] makes attempts of the variations he wrote into them.
//!
//! [`thoughts`] keeps what he thinks of a game before the judge speaks of it; [`find`] names games.
//!
//! Must never know: a game that may be going on is not judged before he has said that it is over.

pub mod account;
pub mod advantage;
pub mod events;
pub mod find;
pub mod memory_notes;
mod misses;
pub mod openings;
pub mod opponents;
pub mod service;
mod sheets;
pub mod thoughts;
