//! TODO

pub mod backup;
pub mod coach;
pub mod drills;
pub mod engine;
pub mod games;
pub mod playout;
pub mod practice;
pub mod progress;
pub mod review;
pub mod setup;
