//! Positions played out against the engine.
//!
//! Takes a position and the terms; gives a game that goes on ([`session`]: each event is kept before it counts) and,
//! once it is over, its account ([`service`]).
//!
//! Must never know: the worth of a position while the game goes on.

pub mod engine_decision;
pub mod records;
pub mod service;
pub mod session;
