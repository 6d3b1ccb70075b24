//! Progress: what many attempts say about one player.
//!
//! Takes reviews ([`counted`] makes the records that are kept of each); gives blind spots ([`spots`]),
//! judgement, depth and time over the weeks, what to practise next, and the month's account. Everything
//! is a pure function of records and a given `now`: no clock, no store, no drawing.
//!
//! Statistics with their sources are in [`stats`]. 'Not enough yet' is the honest default: a figure
//! always comes with its counts and its interval.

pub mod count;
pub mod feature;
pub mod record;
pub mod spots;
pub mod stats;

pub use feature::{Bits, Feature};
pub use record::{
    Circumstances, Counted, Moment, Moments, Outcome, Sighted, Source, Struck, counted,
};
pub use spots::{Spot, State, spots};
