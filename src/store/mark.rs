//! A place in the order of writing.

use super::journal::Entry;

/// The last entry that was taken in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Mark {
    pub(super) seq: u64,
    /// The checksum of its line: the same number in another journal is another entry.
    pub(super) sum: u32,
}

impl Mark {
    /// Before the first.
    pub(super) const NONE: Self = Self::number(0);

    pub(super) fn of(entry: &Entry) -> Self {
        Self {
            seq: entry.seq,
            sum: entry.sum(),
        }
    }

    /// Where the order is that of one window and of no file.
    pub(super) const fn number(seq: u64) -> Self {
        Self { seq, sum: 0 }
    }
}
