//! TODO

pub mod service;
pub mod session;
