//! The home folder itself.
//!
//! Takes a folder; gives a backup of it, what works and what to mend ([`health`]), and the checks for when there is time
//! ([`service`], [`backup`]). [`output`] says which files may be written, [`onboarding`] remembers that the tour was seen.
//!
//! Must never know: chess. What is restored or checked is a table of values like any other.

pub mod backup;
mod backup_settings;
pub mod health;
pub mod onboarding;
pub mod output;
pub mod service;
