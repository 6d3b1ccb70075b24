//! The player's own games.
//!
//! Takes PGN and his name; gives the games, their moments as drills, the clock's account, openings and plan cards
//! ([`service`], [`openings`], [`advantage`]). [`memory_notes`] makes attempts of the variations he wrote into them.
//!
//! Must never know: a game that may be going on is not judged before he has said that it is over.

pub mod advantage;
pub mod memory_notes;
pub mod openings;
pub mod service;
