//! What is counted over many attempts, kept up with the log.
//!
//! Takes the records of reviews, sittings and games as they are kept (see [`crate::store::Projection`]);
//! gives them by name, without a look at the disk. Screens and figures read from here, so that all of them count the
//! same. Must never know: the judge, a service, or anything that the log does not say.

mod attempt_index;

pub(crate) use attempt_index::AttemptIndex;

#[cfg(test)]
mod tests;
