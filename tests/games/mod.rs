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

use crate::support::Program;

/// What it prints; it must have done what was asked.
fn ok(program: &Program, args: &[&str]) -> String {
    let ran = program.run(args);
    assert_eq!(ran.code, 0, "{args:?}: {}", ran.err);
    ran.out
}

/// The words without the way they are broken into lines.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
