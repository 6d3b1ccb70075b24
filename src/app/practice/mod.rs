//! TODO

pub mod drill_library;
pub mod solution_check;
