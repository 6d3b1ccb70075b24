//! Sittings and the attempts they become.
//!
//! Takes what the player writes, one line at a time ([`session`]), or a whole tree that was written elsewhere
//! ([`import`]); gives attempts as their logs have made them. [`repository`] alone knows in which tables its [`records`] lie: a
//! line, or a lock with all that follows from it, is kept in one step. [`service`] opens sittings and takes them up again;
//! [`selection`] remembers why a position was offered, for after the commit; [`listing`] gives the history to
//! read and to choose from, each entry with a short name ([`short_name`]); [`homework`] is what a coach set, and which attempt did it; [`background`] lets the engine work on
//! what stands there already, without a trace.
//!
//! Must never know: what a review says. Nothing here tells whether a move is good.

pub mod background;
pub mod homework;
pub mod import;
pub mod listing;
pub mod records;
pub mod repository;
pub mod selection;
pub mod service;
pub mod session;
pub mod short_name;
#[cfg(test)]
mod tests;
