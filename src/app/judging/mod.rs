//! The judge's work on many games, spread over any number of machines by whatever runner there is.
//!
//! Takes the player's games; gives files of questions that no answer is kept for ([`plan`]). Takes such a file; gives its answers,
//! a line each, kept as soon as they are there ([`answer`]). Takes answers; keeps those that this machine's own judge would
//! have given ([`gather`]), so that everything after that goes on as if it had been asked here.
//!
//! Must never know: which machine it is on, or what the answers are for.

pub mod answer;
pub mod gather;
pub mod plan;
