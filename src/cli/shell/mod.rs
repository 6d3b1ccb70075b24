//! TODO

pub mod error;
pub mod files;
pub mod progress_bar;
pub mod signals;
