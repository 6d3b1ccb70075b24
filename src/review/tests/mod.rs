//! Reviews against a judge whose answers are given, so that each condition can be tested by itself.

mod again;
mod card;
mod effect;
mod kinds;
mod notes;
mod stream;
mod support;
mod trials;
