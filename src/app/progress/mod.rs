//! TODO

pub mod outcomes;
pub mod service;
#[cfg(test)]
pub mod tests;
