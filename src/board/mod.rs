//! What shakmaty leaves open: a line with its history and the rules that look back along it.
//!
//! Takes positions and moves of [`shakmaty`], which knows the rules of a single position. Gives
//! everything that needs more than one position, or more than the rules: how often a position has
//! stood ([`Line`]), what ends a game by rule ([`Rule`]), what a capture sequence wins
//! ([`exchange`]), whether a move gives something up ([`sacrifice`]), what kind of move it is
//! ([`motif`]), and which part of the game a position belongs to ([`phase`]).

pub mod exchange;
pub mod line;
pub mod motif;
pub mod phase;
mod position_key;
pub mod random;
pub mod sacrifice;

pub use line::{IllegalMove, Line};
pub use position_key::PositionKey;
pub use rule::Rule;

pub mod rule;
#[cfg(test)]
pub(crate) mod walks;
