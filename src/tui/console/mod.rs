//! TODO

pub mod after_lock;
pub mod sitting;
#[cfg(test)]
pub mod tests;
