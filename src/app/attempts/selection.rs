//! Why a position was chosen for a sitting: told after the commit.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use serde::{Deserialize, Serialize};

use crate::app::AppError;
use crate::app::attempts::records::AttemptId;
use crate::app::attempts::repository::AttemptRepository;
use crate::progress::next::{Chosen, Why};
use crate::store::Record;

/// Why a sitting's position was chosen. Lost without harm: then nothing is said.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct RecommendationReason(Why);

impl Record for RecommendationReason {
    const TABLE: &'static str = "because";
    const VERSION: u32 = 1;
    const DISPOSABLE: bool = true;
}

/// What was offered last in this run of the program, and why each sitting was opened that took it up.
#[derive(Clone)]
pub(crate) struct SelectionReasons {
    repository: Arc<AttemptRepository>,
    offered: Arc<Mutex<Vec<Chosen>>>,
}

impl SelectionReasons {
    pub(crate) fn new(repository: Arc<AttemptRepository>) -> Self {
        Self {
            repository,
            offered: Arc::default(),
        }
    }

    fn offered(&self) -> MutexGuard<'_, Vec<Chosen>> {
        // The list is replaced whole: a thread that panicked leaves none half written.
        self.offered.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// These are offered from now on.
    pub(crate) fn offer(&self, chosen: Vec<Chosen>) {
        *self.offered() = chosen;
    }

    /// Keeps why the drill was offered, where it was, under the name of the sitting that takes it up.
    pub(crate) fn keep_why(&self, id: &AttemptId, drill: &str) -> Result<(), AppError> {
        let chosen = self.offered().iter().find(|c| c.id == drill).cloned();
        match chosen {
            Some(chosen) => self
                .repository
                .put(&id.0, &RecommendationReason(chosen.why)),
            None => Ok(()),
        }
    }

    /// Why the sitting was opened, in one sentence; `None` where he chose it himself or it is not known any
    /// more.
    pub(crate) fn why(&self, id: &AttemptId) -> Result<Option<String>, AppError> {
        let reason: Option<RecommendationReason> = self.repository.store().get(&id.0)?;
        Ok(reason.map(|r| r.0.sentence()))
    }
}
