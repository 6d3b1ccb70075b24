//! A written calculation goes in, the places where it and the truth part come out.
//!
//! Foreply makes a chess player write his candidate moves and lines down under a clock, before he
//! moves, and then compares that written tree with the truth, line by line. The crate is one house
//! of rooms on floors; each room's `mod.rs` says what it is for, what it takes and what it gives.
//! `DEVELOPERS.md` holds the table of rooms, and `tests/layers.rs` proves that imports only go down.
//!
//! It is for training, never for use during a game in progress (FIDE Laws of Chess, article 11.3).
#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::indexing_slicing,
        clippy::panic,
        clippy::todo,
        clippy::unimplemented
    )
)]

// `tr!` is where `format!` is: everywhere.
#[macro_use]
extern crate foreply_translation_macro;

pub mod app;
pub mod attempt;
pub mod board;
pub mod cli;
pub mod coach;
pub mod drill;
pub mod games;
pub mod judge;
pub mod notation;
pub mod platform;
pub mod playout;
pub mod progress;
pub mod report;
pub mod review;
pub mod score;
pub mod store;
pub mod text;
pub mod translation;
pub mod tree;
pub mod tui;

/// A package of its own, compiled for speed; the rest waits for people and is compiled small.
pub use foreply_engine::engine;
