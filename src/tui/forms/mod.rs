//! TODO

pub mod clarification;
pub mod drill_source;
pub mod end_card;
pub mod finding_spot;
pub mod played_line;
