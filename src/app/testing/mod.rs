//! TODO

pub mod app;
