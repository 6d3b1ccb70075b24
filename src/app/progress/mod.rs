//! What the attempts say together.
//!
//! Takes the figures of all reviewed attempts from the projection; gives the report, the blind spots with their moments,
//! and the month's plan ([`service`]). [`outcomes`] holds what he expected against what came of it in play-outs and
//! games. All counting itself is done by the room [`crate::progress`], without a store.
//!
//! Must never know: single trees. It reads a log only for the causes that stand in it.

pub mod outcomes;
pub mod service;
#[cfg(test)]
mod tests;
