//! One file a command, or a folder where a command has commands of its own.
//!
//! Takes the command's arguments and the general ones; asks one use case of [`crate::app`], hands the value to
//! [`crate::report`], prints. What several commands need (opening the application, finding an attempt or a drill by its
//! name) stands beside this folder, in [`super::open_app`] and [`super::locate`].
//!
//! Must never know: another command.

pub mod backup;
pub mod coach;
pub mod drills;
pub mod engine;
pub mod experiment;
pub mod games;
pub mod generated;
pub mod history;
pub mod judge;
pub mod method;
pub mod playout;
pub mod practice;
pub mod progress;
pub mod quick;
pub mod review;
pub mod schema;
pub mod setup;
pub mod translation;
