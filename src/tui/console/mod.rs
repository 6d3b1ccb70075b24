//! A sitting as lines of text: for screen readers, terminals without cursor control, and scripts.
//!
//! A line comes in, some lines go out; nothing is drawn over. [`sitting`] leads up to the lock,
//! [`after_lock`] from there through the review.
//!
//! It says what the screens say and keeps the same events. It must never know a screen or the router:
//! what both need lies in the forms, and up to the lock it may not say more than the screens do.

pub mod after_lock;
mod io;
pub mod sitting;
mod telling;
#[cfg(test)]
pub mod tests;
