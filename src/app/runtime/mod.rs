//! From settings to a running application.
//!
//! Takes a [`crate::app::Config`]; gives the wired services ([`open`], the only place that builds a store), the judge when
//! it is first needed ([`judge_provider`]), the time ([`clock`]) and the user's settings ([`settings_file`]).
//!
//! Must never know: what the services do with what they are handed.

pub mod clock;
pub mod judge_provider;
pub mod open;
pub mod settings_file;
