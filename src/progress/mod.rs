//! Progress: what many attempts say about one player.
//!
//! Takes reviews ([`counted`] makes the records that are kept of each); gives blind spots ([`spots`]),
//! judgement, depth and time over the weeks, what to practise next, and the month's account. Everything
//! is a pure function of records and a given `now`: no clock, no store, no drawing.
//!
//! Statistics with their sources are in [`stats`]. 'Not enough yet' is the honest default: a figure
//! always comes with its counts and its interval.

pub mod account;
pub mod causes;
pub mod converting;
pub mod count;
pub mod course;
pub mod difficulty;
pub mod feature;
pub mod judgement;
pub mod next;
pub mod record;
pub mod report;
pub mod schedule;
pub mod spots;
pub mod stats;

pub use feature::{Bits, Feature};
pub use record::{
    Circumstances, Counted, Moment, Moments, Outcome, Sighted, Source, Struck, counted,
};
pub use report::{Given, Report, report};
pub use spots::{Spot, State, spots};

use std::collections::BTreeMap;

/// The attempts that the main figures are made of: first sights of sittings, with the sight of the board
/// that he uses most. Other sights, repeats, notes and play-outs are never mixed in.
#[must_use]
pub fn main_group(counted: &[(String, Counted)]) -> Vec<&(String, Counted)> {
    let mut sights: BTreeMap<&str, usize> = BTreeMap::new();
    for (_, c) in counted.iter().filter(|(_, c)| c.is_first_sitting()) {
        *sights.entry(feature::sight_words(c.sight)).or_default() += 1;
    }
    let most = sights
        .into_iter()
        .max_by_key(|(_, n)| *n)
        .map(|(sight, _)| sight);
    let belongs = |c: &Counted| c.is_first_sitting() && Some(feature::sight_words(c.sight)) == most;
    counted.iter().filter(|(_, c)| belongs(c)).collect()
}
