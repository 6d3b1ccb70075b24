//! TODO

pub mod account;
pub mod screen;
