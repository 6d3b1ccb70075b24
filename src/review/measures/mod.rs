//! TODO

pub mod coverage;
pub mod credits;
pub mod decided;
pub mod depth;
pub mod end_card;
pub mod process;
pub mod threat_notes;
pub mod trials;
