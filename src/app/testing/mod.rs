//! An application for tests: no engine, a clock that stands, a home that goes away.
//!
//! Takes drills and a judge; gives a whole [`crate::app::App`] in a folder of its own. Must never be part of the
//! program: it is compiled for tests alone.

pub mod app;
