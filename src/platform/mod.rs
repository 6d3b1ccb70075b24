//! What one kind of system has and another has not: the one place that asks which it is.
//!
//! Takes paths, files and processes; gives answers that every system can give, and where a system has no such thing what is
//! closest to it. No chess in here, and nothing of the program.
//!
//! `unix.rs` and `other.rs` hold the same functions. A test reads the sources for what stands elsewhere, and the whole program
//! is checked for Windows where the standard library of that target is there.

#[cfg(not(unix))]
mod other;
#[cfg(unix)]
mod unix;

#[cfg(not(unix))]
pub use other::*;
#[cfg(unix)]
pub use unix::*;
