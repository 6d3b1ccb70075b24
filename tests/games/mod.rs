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

/// What it prints; it must have done what was asked.
/// The words without the way they are broken into lines.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
