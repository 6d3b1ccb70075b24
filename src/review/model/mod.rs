//! What a review consists of and rests on: plain values.
//!
//! In comes nothing but values of lower floors: moves, nodes of a tree, scores. Out go the [`Review`] and
//! its parts, what is asked of it ([`ReviewInput`], [`Settings`], [`ReviewObserver`]), the typed evidence of a finding
//! ([`fault`]), the ranges of verdicts ([`verdicts`]) and every threshold ([`thresholds`]).
//!
//! Nothing in here asks a judge, searches a tree or makes a sentence, and nothing in here knows another
//! folder of the review: all of them build on these values.

pub mod evidence;
pub mod fault;
pub mod finding;
pub mod input;
pub mod measures;
pub mod notes;
pub mod review;
pub mod settings;
pub mod thresholds;
pub mod trial;
pub mod verdicts;

#[cfg(doc)]
use input::{ReviewInput, ReviewObserver};
#[cfg(doc)]
use review::Review;
#[cfg(doc)]
use settings::Settings;
