//! A position played out against the engine, and the account afterwards.
//!
//! A game comes in with the route; moves, offers and what is written before a move go out to its log.
//! The engine works beside the screen; nothing of its thinking is shown before the game is over.
//!
//! Whether a move is possible is not known here: the use case refuses it. Which terms a game has is the
//! caller's affair.

pub mod account;
pub mod screen;
pub mod terms;
pub mod view;
