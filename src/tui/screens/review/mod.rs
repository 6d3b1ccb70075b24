//! TODO

pub mod measures_pane;
pub mod partial;
pub mod pending;
pub mod responses;
pub mod screen;
pub mod view;
