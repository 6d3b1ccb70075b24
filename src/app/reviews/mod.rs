//! Locked attempts compared with the truth, and what is said of the comparison.
//!
//! Takes a locked attempt, or notes from a file; gives its review, at once or behind the screens ([`service`], with
//! [`queue`] as its memory). [`objection`] answers a line that the player holds against a finding, [`causes`] keeps his
//! words for why, [`coach`] sends attempts out and keeps answers, which [`coach_answers`] reads; [`homework`] is what
//! coaches have set; [`notes`] reviews what stands in a PGN file,
//! [`statistics`] keeps what is counted across attempts.
//!
//! Must never know: how anything is shown. Nothing is reviewed that is not locked, or of a game that goes on.

pub mod causes;
pub mod coach;
pub mod coach_answers;
pub mod homework;
pub mod note_id;
pub mod notes;
pub mod objection;
pub mod queue;
pub mod service;
pub mod statistics;
