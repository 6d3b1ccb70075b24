//! What is no fault: what held, how deep, how complete and how well aimed the tree was, and what is counted
//! across attempts.
//!
//! In come the finished analysis and the confirmed findings; out come the plain values of
//! [`model`](crate::review::model). [`credits`], [`depth`], [`coverage`] and [`process`] measure;
//! [`threat_notes`], [`decided`], [`end_card`], [`move_reads`] and [`unjudged`] tell what is worth knowing besides; [`trials`]
//! keeps what is counted.
//!
//! Nothing in here may change a finding, or what one counts for.

pub mod coverage;
pub mod credits;
pub mod decided;
pub mod depth;
pub mod end_card;
pub mod move_reads;
pub mod process;
pub mod threat_notes;
pub mod trials;
pub mod unjudged;
