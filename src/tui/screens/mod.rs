//! TODO

pub mod browse;
pub mod game;
pub mod overlays;
pub mod review;
pub mod writing;
