//! TODO

pub mod account;
pub mod screen;
pub mod view;
