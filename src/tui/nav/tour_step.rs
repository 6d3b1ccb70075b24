//! The steps of the tour, as the screens tell them.

/// A step of the tour. It depends on the screen and on how far the tree has come, never on what is
/// written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TourStep {
    Preview,
    FirstMove,
    FirstLine,
    NextCandidate,
    Choose,
    Commit,
    Locked,
    Review,
}
