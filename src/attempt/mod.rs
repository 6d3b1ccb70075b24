//! One attempt at a position: an append-only log of events, and the state that follows from it.
//!
//! Takes events (what the player did, and when); gives an [`Attempt`]: the written tree, the choice,
//! the clock. State is never stored, only computed: [`Attempt::fold`] of any prefix of a log is the
//! state the player saw at that moment, so resuming after a crash, undo, the candidate log and
//! replay have one source.

mod after;
mod card;
mod circumstances;
mod coach;
mod entries;
mod event;
mod fold;
#[cfg(test)]
mod tests;

pub use after::{After, Explained, shown_cause};
pub use card::{EndCard, Material, Mover, NotMaterial, PLAN_MAX};
pub use coach::{Coached, FindingSelector, Overruling, Remark, Remarks, SentFinding};
pub use event::{AttemptEvent, BoardVisibility, FindingId, Opened, Origin, TimedAttemptEvent};
pub use fold::{Attempt, FoldError, Stage, past_as_uci};
