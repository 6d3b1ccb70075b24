//! Progress: what many attempts say about one player.
//!
//! Takes reviews ([`counted`] makes the records that are kept of each); gives blind spots ([`spots`]),
//! judgement, depth and time over the weeks, what to practise next, and the month's account. Everything
//! is a pure function of records and a given `now`: no clock, no store, no drawing.
//!
//! Statistics with their sources are in [`stats`]. 'Not enough yet' is the honest default: a figure
//! always comes with its counts and its interval.
//!
//! # What verdicts are held against
//!
//! A verdict at the end of the choice's line (`forecast`) is held against results: of the play-out in which it was
//! written, of a play-out begun at the same position after that sitting, and, apart, of own games (notes from
//! memory: the result was known). Conversion: `converting.rs`; own games leave one record each when they are
//! judged (`advantages`, disposable). Which kinds of finding belong to which offered cause: `causes.rs`.

pub mod account;
pub mod causes;
pub mod converting;
pub mod count;
pub mod course;
pub mod difficulty;
pub mod experiment;
pub mod feature;
mod feature_schema;
pub mod judgement;
pub mod next;
pub mod quick;
pub mod recognising;
pub mod record;
pub mod report;
pub mod resolution;
pub mod schedule;
pub mod spots;
pub mod stats;

pub use feature::{Bits, Feature};
pub use record::{
    AttemptStatistics, Circumstances, Moment, Moments, Outcome, Sighted, Source, Struck, counted,
};
pub use report::{Given, Report, report};
pub use spots::{Spot, State, spots};

use std::collections::BTreeMap;

use crate::attempt::BoardVisibility;

/// The attempts that the main figures are made of: first sights of sittings, with the sight of the board
/// that he uses most. Other sights, repeats, notes and play-outs are never mixed in.
#[must_use]
pub fn main_group(counted: &[(String, AttemptStatistics)]) -> Vec<&(String, AttemptStatistics)> {
    let sight = main_sight(counted.iter().map(|(_, c)| c));
    let all = counted.iter();
    all.filter(|(_, c)| c.is_in_main_group(sight)).collect()
}

/// The sight of the board that he uses most in first sights of sittings.
pub fn main_sight<'a>(
    counted: impl Iterator<Item = &'a AttemptStatistics>,
) -> Option<BoardVisibility> {
    let mut sights: BTreeMap<&str, (usize, BoardVisibility)> = BTreeMap::new();
    for c in counted.filter(|c| c.is_first_sitting()) {
        let entry = sights.entry(feature::sight_words(c.sight));
        entry.or_insert((0, c.sight)).0 += 1;
    }
    let most = sights.into_iter().max_by_key(|(_, (n, _))| *n);
    most.map(|(_, (_, sight))| sight)
}
