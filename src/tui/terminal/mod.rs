//! TODO

pub mod colours;
pub mod event_loop;
pub mod host;
pub mod root_view;
