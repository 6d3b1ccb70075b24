//! What to practise.
//!
//! Takes the drills ([`catalogue`]) and what came of the attempts at them; gives positions for the minutes at hand and for
//! the eve of a game ([`recommendations`]). [`drill_library`] adds, removes and makes drills, [`solution_check`] holds
//! a published solution against the judge, [`quick`] offers positions at speed, [`experiment`] draws
//! when habits get their blocks.
//!
//! Must never know: why a position was chosen is told by the attempt, after the commit, and nowhere before.

pub mod catalogue;
pub mod drill_library;
pub mod experiment;
pub mod quick;
pub mod recommendations;
pub mod solution_check;
