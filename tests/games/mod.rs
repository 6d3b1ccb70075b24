//! `foreply games` as a player meets it, and against the outside.

mod account;
mod add;
mod event;
mod fair;
mod hostile;
mod moments;
mod openings;
mod outside;
mod recall;
mod sheet;

/// The invented season that the README walks through.
pub const SEASON: &str = "tests/data/harrowmere-season.pgn";
