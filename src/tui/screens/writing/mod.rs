//! An attempt up to its lock: the first look, the tree, the commit, the questions behind the lock, the
//! second look.
//!
//! A sitting comes in with the route and goes out with the next one, so that it goes on in one place
//! only. What is typed becomes events of the attempt.
//!
//! Silence before the lock is a rule of imports: nothing in here may name the rooms for review, judge,
//! progress or games, a drill's solution, nor the use cases of review and progress. What is said may
//! depend on the form of what was written, never on whether it is possible or good.

pub mod commit;
pub mod locked;
mod mending;
pub mod preview;
pub mod screen;
pub mod second_look;
pub mod view;
