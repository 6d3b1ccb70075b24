//! Reviews that are computed while the screens go on.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;

use super::{App, SittingId};
use crate::attempt::Attempt;
use crate::judge::{Judge, JudgeError};
use crate::review::{self, Review, Settings, Written};

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

/// The reviews of this run of the program.
#[derive(Default)]
pub(super) struct Jobs(Mutex<HashMap<SittingId, ReviewState>>);

impl Jobs {
    fn states(&self) -> MutexGuard<'_, HashMap<SittingId, ReviewState>> {
        // Each state is replaced whole: a thread that panicked leaves none half written.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn set(&self, id: &SittingId, state: ReviewState) {
        self.states().insert(id.clone(), state);
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
        self.jobs
            .set(id, ReviewState::Working { done: 0, total: 0 });
        let (app, id) = (self.clone(), id.clone());
        thread::spawn(move || app.review_behind(&id));
    }

    fn review_behind(&self, id: &SittingId) {
        let guard = FailUnlessDone { app: self, id };
        let result = self.review(id, &mut |done, total| {
            self.jobs.set(id, ReviewState::Working { done, total });
        });
        let state = match result {
            Ok(review) => ReviewState::Ready(Arc::new(review)),
            Err(error) => ReviewState::Failed(error.to_string()),
        };
        self.jobs.set(id, state);
        drop(guard);
    }

    /// How far the review of an attempt has come; `None` where it was not begun.
    #[must_use]
    pub fn review_state(&self, id: &SittingId) -> Option<ReviewState> {
        self.jobs.states().get(id).cloned()
    }
}

/// The review of a locked attempt.
pub(super) fn compute(
    attempt: &Attempt,
    judge: &dyn Judge,
    settings: &Settings,
    progress: &mut dyn FnMut(usize, usize),
) -> Result<Review, JudgeError> {
    let past = attempt.opened().past.len();
    let written = Written {
        tree: attempt.tree(),
        choice: attempt.choice(),
        attempt: Some(attempt),
        ply_in_game: (past > 0).then_some(past),
    };
    review::review(&written, judge, settings, progress)
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
