//! Reviews that are computed while the screens go on.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use crate::app::attempts::records::AttemptId;
use crate::review::{Credit, Finding, Review, ReviewObserver};

/// How far the review of one attempt has come.
#[derive(Debug, Clone)]
pub enum ReviewState {
    /// `done` of `total` steps; `total` is 0 as long as it is not known.
    Working {
        done: usize,
        total: usize,
    },
    Ready(Arc<Review>),
    /// The one message to show; the attempt is untouched.
    Failed(String),
}

/// What of a review is sure while the rest is still being computed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SoFar {
    /// The sentence that the review opens with; empty as long as it is not known.
    pub opening: String,
    /// What held; empty only as long as it is not known.
    pub right: Vec<Credit>,
    /// Counted findings in their final order: the review begins with the same ones.
    pub findings: Vec<Finding>,
}

/// The reviews of this run of the program.
#[derive(Default)]
pub(crate) struct ReviewQueue {
    states: Mutex<HashMap<AttemptId, ReviewState>>,
    early: Mutex<HashMap<AttemptId, SoFar>>,
}

impl ReviewQueue {
    pub(super) fn states(&self) -> MutexGuard<'_, HashMap<AttemptId, ReviewState>> {
        // Each state is replaced whole: a thread that panicked leaves none half written.
        self.states.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub(super) fn early(&self) -> MutexGuard<'_, HashMap<AttemptId, SoFar>> {
        // Vectors are replaced whole or grow by whole values.
        self.early.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub(super) fn set(&self, id: &AttemptId, state: ReviewState) {
        self.states().insert(id.clone(), state);
    }

    /// The review is to be computed anew when it is asked for.
    pub(crate) fn forget(&self, id: &AttemptId) {
        self.early().remove(id);
        self.states().remove(id);
    }

    pub(super) fn begin(&self, id: &AttemptId) {
        self.early().remove(id);
        self.set(id, ReviewState::Working { done: 0, total: 0 });
    }
}

/// Puts what a review tells into the table that the screens look at.
pub(super) struct QueueObserver<'a> {
    pub(super) queue: &'a ReviewQueue,
    pub(super) id: &'a AttemptId,
}

impl ReviewObserver for QueueObserver<'_> {
    fn progress(&mut self, done: usize, total: usize) {
        let state = ReviewState::Working { done, total };
        self.queue.set(self.id, state);
    }

    fn right(&mut self, right: &[Credit]) {
        let mut early = self.queue.early();
        early.entry(self.id.clone()).or_default().right = right.to_vec();
    }

    fn opening(&mut self, opening: &str) {
        let mut early = self.queue.early();
        early.entry(self.id.clone()).or_default().opening = opening.to_owned();
    }

    fn finding(&mut self, finding: &Finding) {
        let mut early = self.queue.early();
        let so_far = early.entry(self.id.clone()).or_default();
        so_far.findings.push(finding.clone());
    }
}

/// A review that panics must not leave its screen waiting for ever.
pub(super) struct FailUnlessDone<'a> {
    pub(super) queue: &'a ReviewQueue,
    pub(super) id: &'a AttemptId,
}

impl Drop for FailUnlessDone<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            let message = tr!("the review stopped by an internal error; your attempt is kept");
            self.queue
                .set(self.id, ReviewState::Failed(message.to_owned()));
        }
    }
}
