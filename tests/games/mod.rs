//! `foreply games` as a player meets it, and against the outside.

mod add;
mod moments;
mod outside;

/// The invented season that the README walks through.
pub const SEASON: &str = "tests/data/harrowmere-season.pgn";
