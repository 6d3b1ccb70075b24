//! TODO

pub mod blind_spots;
pub mod drill_filter;
pub mod drills;
pub mod history;
pub mod home;
