//! TODO

pub mod help;
pub mod pause;
pub mod tour;
