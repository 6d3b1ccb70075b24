//! The home folder itself.
//!
//! Takes a folder; gives a backup of it, what works and what to mend ([`health`]), and the checks for when there is time
//! ([`service`], [`backup`]). [`atomic_file`] writes whole files, [`onboarding`] remembers that the tour was seen.
//!
//! Must never know: chess. What is restored or checked is a table of values like any other.

pub mod atomic_file;
pub mod backup;
pub mod health;
pub mod onboarding;
pub mod service;
