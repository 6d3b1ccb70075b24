//! A score sheet typed from paper.
//!
//! Takes keys; gives a game to his own games. What is typed is kept after each key, and read behind the screen while he types on
//! ([`reading`]). Must never know: what a move is worth.

mod open;
mod reading;
pub mod screen;
mod view;
