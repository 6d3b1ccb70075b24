//! Reviews of locked attempts: computed at once or behind the screens.

use std::sync::Arc;
use std::thread;

use crate::app::AppError;
use crate::app::attempts::records::AttemptId;
use crate::app::attempts::repository::AttemptRepository;
use crate::app::attempts::service::AttemptService;
use crate::app::games::service::GameService;
use crate::app::playouts::records::GameId;
use crate::app::playouts::service::PlayoutService;
use crate::app::reviews::queue::{FailUnlessDone, QueueObserver, ReviewQueue, ReviewState, SoFar};
use crate::app::reviews::statistics::StatisticsRecorder;
use crate::app::runtime::judge_provider::JudgeProvider;
use crate::attempt::{Attempt, Origin};
use crate::judge::{Judge, JudgeError};
use crate::review::{self, Review, ReviewInput, ReviewObserver, Settings};

/// Compares locked attempts with the truth.
#[derive(Clone)]
pub struct ReviewService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) judges: Arc<JudgeProvider>,
    pub(crate) settings: Settings,
    pub(crate) queue: Arc<ReviewQueue>,
    pub(crate) attempts: AttemptService,
    pub(crate) games: GameService,
    pub(crate) playouts: PlayoutService,
    pub(crate) statistics: StatisticsRecorder,
}

impl ReviewService {
    /// Compares a locked attempt with the truth, and keeps the review in short for the history.
    ///
    /// # Errors
    /// There is no such attempt, it is not locked, the engine failed (the attempt is untouched and can
    /// be reviewed later), or the summary could not be kept.
    pub fn review(
        &self,
        id: &AttemptId,
        watcher: &mut dyn ReviewObserver,
    ) -> Result<Review, AppError> {
        let attempt = self.repository.attempt(id)?;
        if attempt.locked_ms().is_none() {
            return Err(AppError::NotLocked);
        }
        self.refuse_in_play(id, &attempt)?;
        let review = compute(&attempt, &*self.judges.judge()?, &self.settings, watcher)?;
        // Where the store is only read the notices have said that nothing is kept.
        if !self.repository.store().is_read_only() {
            self.statistics.keep(id, &attempt, &review)?;
        }
        Ok(review)
    }

    /// Begins the review of a locked attempt in the background; does nothing where it is under way or
    /// ready. After a failure it begins anew.
    pub fn begin(&self, id: &AttemptId) {
        let under_way = matches!(
            self.state(id),
            Some(ReviewState::Working { .. } | ReviewState::Ready(_))
        );
        if under_way {
            return;
        }
        self.queue.begin(id);
        let (service, id) = (self.clone(), id.clone());
        thread::spawn(move || service.review_behind(&id));
    }

    fn review_behind(&self, id: &AttemptId) {
        let guard = FailUnlessDone {
            queue: &self.queue,
            id,
        };
        let result = self.review(
            id,
            &mut QueueObserver {
                queue: &self.queue,
                id,
            },
        );
        let state = match result {
            Ok(review) => ReviewState::Ready(Arc::new(review)),
            Err(error) => ReviewState::Failed(error.to_string()),
        };
        self.queue.set(id, state);
        drop(guard);
    }

    /// What is sure of a review that is under way; empty where nothing is, or where it was not begun.
    #[must_use]
    pub fn so_far(&self, id: &AttemptId) -> SoFar {
        self.queue.early().get(id).cloned().unwrap_or_default()
    }

    /// How far the review of an attempt has come; `None` where it was not begun.
    #[must_use]
    pub fn state(&self, id: &AttemptId) -> Option<ReviewState> {
        self.queue.states().get(id).cloned()
    }

    /// What was written in a game is not judged before the game is over.
    pub(crate) fn refuse_in_play(&self, id: &AttemptId, attempt: &Attempt) -> Result<(), AppError> {
        match &attempt.opened().origin {
            Origin::Playout { game, .. } => {
                let game = GameId(game.clone());
                let over = self.playouts.game(&game)?.end().is_some();
                over.then_some(()).ok_or(AppError::GameGoesOn(game.0))
            }
            origin @ Origin::Notes(_) => self.games.first_judgement(id, origin),
            _ => Ok(()),
        }
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
