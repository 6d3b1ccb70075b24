//! TODO

pub mod memory_notes;
pub mod openings;
pub mod service;
