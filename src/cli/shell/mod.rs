//! What a command line program owes to its shell.
//!
//! Takes errors, values to print and signals; gives exit codes and one message each ([`error`]), whole output files
//! ([`files`]), a bar while something takes long ([`progress_bar`]), and an end that leaves no engine behind
//! ([`signals`]).
//!
//! Must never know: chess, or which command runs.

pub mod error;
pub mod files;
pub mod progress_bar;
#[cfg(unix)]
pub mod signals;
