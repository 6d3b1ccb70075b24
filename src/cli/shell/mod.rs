//! What a command line program owes to its shell.
//!
//! Takes errors, values to print and signals; gives exit codes and one message each ([`error`]), whole output files
//! ([`files`]), a bar while something takes long ([`progress_bar`]), and an end that leaves no engine behind
//! ([`signals`]).
//!
//! SIGTERM, SIGHUP and SIGINT: the screens give the terminal back and end with 0; a command ends its engines, which are
//! groups of their own, and then itself as the signal says. A reader that goes away (`| head`) ends it quietly. Ctrl-Z and SIGTSTP
//! give the terminal back until `fg`; where no shell could say so, they only draw the screen anew.
//!
//! Must never know: chess, or which command runs.

pub mod error;
pub mod files;
pub mod po_file;
pub mod progress_bar;
pub mod signals;
