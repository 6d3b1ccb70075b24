//! Progress as a whole: players with planted weaknesses, statistics against other implementations, and
//! the command.

mod command;
mod method;
mod simulation;
mod statistics;
