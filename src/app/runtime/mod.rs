//! TODO

pub mod clock;
pub mod judge_provider;
pub mod open;
pub mod settings_file;
