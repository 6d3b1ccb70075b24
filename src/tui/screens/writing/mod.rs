//! TODO

pub mod commit;
pub mod locked;
pub mod preview;
pub mod screen;
pub mod second_look;
pub mod view;
