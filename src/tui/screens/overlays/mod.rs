//! What lies over another screen for a while: the help, the pause, the step of a tour.
//!
//! The contexts of a screen, a paused sitting or a step of the tour come in; the way back goes out.
//!
//! None of them may know which screen lies below. The pause shows nothing of the position, so that
//! nothing can be thought about it while the clock stands; the tour says the same whatever is written.

pub mod help;
pub mod pause;
pub mod tour;
