//! Own games: the list, and a page on one of them or on an event.
//!
//! Games come in from the use cases; out goes a route to what was marked. What a page says is told in the words of the
//! commands.
//!
//! A page is judged behind the screen, never before his thoughts on the game are locked.

pub mod account;
pub mod list;
pub mod page;
mod waiting;
