//! His own thoughts on a game, before any engine speaks of it.
//!
//! An own game comes in; what he says goes to the use case, word by word. What he saw at a move is written on the
//! screens of every sitting.
//!
//! It must never know anything that tells how good a move is.

pub mod recall;
