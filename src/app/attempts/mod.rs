//! TODO

pub mod import;
pub mod repository;
pub mod session;
#[cfg(test)]
pub mod tests;
