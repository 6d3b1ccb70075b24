//! What was written in one go: a typed line is several edits, with one time.

use super::{Attempt, AttemptEvent, TimedAttemptEvent};

impl Attempt {
    /// How many edits the last entry made: a line that was written in one go is several, with one time.
    #[must_use]
    pub fn last_entry(&self) -> usize {
        let (edits, _) = self.edits();
        in_one_go(edits.into_iter().rev())
    }

    /// How many edits the entry made that was taken back last.
    #[must_use]
    pub fn last_undone(&self) -> usize {
        let (_, undone) = self.edits();
        in_one_go(undone.into_iter().rev())
    }
}

/// How many edits from the first on were written in one go.
fn in_one_go<'a>(edits: impl Iterator<Item = &'a TimedAttemptEvent>) -> usize {
    let mut edits = edits.peekable();
    let Some(first) = edits.peek().copied() else {
        return 0;
    };
    let is_same = |e: &&TimedAttemptEvent| e.at_ms == first.at_ms && e.what.is_entry();
    edits.take_while(is_same).count().max(1)
}

impl AttemptEvent {
    /// True for what a typed line is made of.
    #[must_use]
    pub fn is_entry(&self) -> bool {
        matches!(
            self,
            Self::Added { .. } | Self::Judged { .. } | Self::Commented { .. }
        )
    }
}
