//! TODO

pub mod engine_requests;
pub mod measures_pane;
pub mod partial;
pub mod pending;
pub mod response_input;
pub mod responses;
pub mod screen;
pub mod state;
pub mod view;
