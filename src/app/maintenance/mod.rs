//! TODO

pub mod atomic_file;
pub mod backup;
pub mod health;
pub mod onboarding;
