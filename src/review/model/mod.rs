//! TODO

pub mod review;
