//! TODO

pub mod after_lock;
mod io;
pub mod sitting;
#[cfg(test)]
pub mod tests;
