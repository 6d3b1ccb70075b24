//! How much is taken in of what comes from outside: one place for all of it.
//!
//! What is larger is refused where it comes in, with a message that says so, so that no later stage has
//! to think about it. Each room keeps the name it is known by there and takes the number from here.

/// Longest text in bytes that a single field from outside may hold.
pub const FIELD_MAX: usize = 64 * 1024;
/// Largest drill file in bytes. Records in one file: 1,000 (`drill::yaml`).
pub const DRILL_FILE_MAX: usize = 256 * 1024;
/// Largest settings file in bytes. Small, because YAML can refer to one long string many times: what
/// such a file can grow to in memory goes with the square of its size.
pub const SETTINGS_MAX: usize = 16 * 1024;
/// Longest line in bytes that is heard of an engine; the rest of a longer one is passed over.
pub const ENGINE_LINE_MAX: u64 = 64 * 1024;
/// Lines of an engine that may wait to be heard; an engine that says more waits itself.
pub const ENGINE_LINES_WAITING: usize = 256;
/// Longest line in bytes that is read of standard input: a game of thousands of moves as the UCI protocol has it.
pub const LINE_MAX: usize = 1024 * 1024;
