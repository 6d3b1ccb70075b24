//! Lists to choose from: what to practise, all positions, all attempts, blind spots; and the figures that stand beside them.
//!
//! Rows come in from the use cases; out goes a route to what was marked. Positions are named by number:
//! no name, source or result is listed, since it would tell something of the solution.
//!
//! They must never know how the screens behind their rows are made, nor write to an attempt. A list that
//! is uncovered reads its rows again.

pub mod blind_spots;
mod columns;
pub mod drill_filter;
pub mod drills;
pub mod figures;
pub mod history;
pub mod home;
mod home_items;
pub mod quick;
mod weeks;
