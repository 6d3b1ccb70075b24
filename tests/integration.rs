//! The one integration binary: everything that needs the whole house, or the program itself.

mod judge;
mod judge_own;
mod layers;
mod pgn;
mod screens;
mod standards;
