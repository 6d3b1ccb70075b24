//! Reviews that are computed while the screens go on.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;

use crate::app::{App, SittingId};
use crate::attempt::Attempt;
use crate::judge::{Judge, JudgeError};
use crate::review::{self, Credit, Finding, Review, ReviewInput, ReviewObserver, Settings};

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
    /// What held; empty only as long as it is not known.
    pub right: Vec<Credit>,
    /// Counted findings in their final order: the review begins with the same ones.
    pub findings: Vec<Finding>,
}

/// The reviews of this run of the program.
#[derive(Default)]
pub(crate) struct Jobs {
    states: Mutex<HashMap<SittingId, ReviewState>>,
    early: Mutex<HashMap<SittingId, SoFar>>,
}

impl Jobs {
    fn states(&self) -> MutexGuard<'_, HashMap<SittingId, ReviewState>> {
        // Each state is replaced whole: a thread that panicked leaves none half written.
        self.states.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn early(&self) -> MutexGuard<'_, HashMap<SittingId, SoFar>> {
        // Vectors are replaced whole or grow by whole values.
        self.early.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn set(&self, id: &SittingId, state: ReviewState) {
        self.states().insert(id.clone(), state);
    }

    /// The review is to be computed anew when it is asked for.
    pub(crate) fn forget(&self, id: &SittingId) {
        self.early().remove(id);
        self.states().remove(id);
    }

    fn begin(&self, id: &SittingId) {
        self.early().remove(id);
        self.set(id, ReviewState::Working { done: 0, total: 0 });
    }
}

impl App {
    /// Begins the review of a locked attempt in the background; does nothing where it is under way or
    /// ready. After a failure it begins anew.
    pub fn begin_review(&self, id: &SittingId) {
        let under_way = matches!(
            self.review_state(id),
            Some(ReviewState::Working { .. } | ReviewState::Ready(_))
        );
        if under_way {
            return;
        }
        self.jobs.begin(id);
        let (app, id) = (self.clone(), id.clone());
        thread::spawn(move || app.review_behind(&id));
    }

    fn review_behind(&self, id: &SittingId) {
        let guard = FailUnlessDone { app: self, id };
        let result = self.review(id, &mut Behind { app: self, id });
        let state = match result {
            Ok(review) => ReviewState::Ready(Arc::new(review)),
            Err(error) => ReviewState::Failed(error.to_string()),
        };
        self.jobs.set(id, state);
        drop(guard);
    }

    /// What is sure of a review that is under way; empty where nothing is, or where it was not begun.
    #[must_use]
    pub fn review_so_far(&self, id: &SittingId) -> SoFar {
        self.jobs.early().get(id).cloned().unwrap_or_default()
    }

    /// How far the review of an attempt has come; `None` where it was not begun.
    #[must_use]
    pub fn review_state(&self, id: &SittingId) -> Option<ReviewState> {
        self.jobs.states().get(id).cloned()
    }
}

/// Puts what a review tells into the table that the screens look at.
struct Behind<'a> {
    app: &'a App,
    id: &'a SittingId,
}

impl ReviewObserver for Behind<'_> {
    fn progress(&mut self, done: usize, total: usize) {
        let state = ReviewState::Working { done, total };
        self.app.jobs.set(self.id, state);
    }

    fn right(&mut self, right: &[Credit]) {
        let mut early = self.app.jobs.early();
        early.entry(self.id.clone()).or_default().right = right.to_vec();
    }

    fn finding(&mut self, finding: &Finding) {
        let mut early = self.app.jobs.early();
        let so_far = early.entry(self.id.clone()).or_default();
        so_far.findings.push(finding.clone());
    }
}

/// The review of a locked attempt.
pub(crate) fn compute(
    attempt: &Attempt,
    judge: &dyn Judge,
    settings: &Settings,
    watcher: &mut dyn ReviewObserver,
) -> Result<Review, JudgeError> {
    let past = attempt.opened().past.len();
    let written = ReviewInput {
        tree: attempt.tree(),
        choice: attempt.choice(),
        attempt: Some(attempt),
        ply_in_game: (past > 0).then_some(past),
    };
    review::review(&written, judge, settings, watcher)
}

/// A review that panics must not leave its screen waiting for ever.
struct FailUnlessDone<'a> {
    app: &'a App,
    id: &'a SittingId,
}

impl Drop for FailUnlessDone<'_> {
    fn drop(&mut self) {
        if thread::panicking() {
            let message = "the review stopped by an internal error; your attempt is kept";
            self.app
                .jobs
                .set(self.id, ReviewState::Failed(message.to_owned()));
        }
    }
}
