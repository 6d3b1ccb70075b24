//! The package around the engine, whose room is [`engine`]; the program takes it in as `crate::engine`.
#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::todo,
        clippy::unimplemented
    )
)]

pub mod board;
// A process of its own, whose tables are indexed by squares, pieces and depths in every node; a fault in it
// is met as the end of an engine.
#[path = "mod.rs"]
pub mod engine;
