//! TODO

pub mod background;
pub mod causes;
pub mod coach;
pub mod notes;
pub mod objection;
pub mod queue;
