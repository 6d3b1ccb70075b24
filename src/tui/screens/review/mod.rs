//! After the lock: waiting for the review, the review itself, and what the player answers to it.
//!
//! The id of a locked attempt comes in; out go answers, kept as events beside the tree, and lines that
//! are asked of the engine. A review may be shown while it is still being computed ([`partial`]).
//!
//! [`open_review`] is the state, changed by `screen` and `responses`, shown by `view` and what it
//! takes. None of them may change the tree, find or rank anything: sentences and order come from the
//! review.

mod answers;
pub mod engine_requests;
pub mod measures_pane;
pub mod open_review;
mod pages;
pub mod partial;
pub mod pending;
pub mod response_input;
pub mod responses;
pub mod screen;
mod stops;
mod tree_pane;
pub mod two_lines;
pub mod view;
