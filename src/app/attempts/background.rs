//! Thinking ahead: the engine works on what is written while the player goes on writing.
//!
//! A copy of the tree is reviewed behind the scenes and the review thrown away; only the judge's
//! answers stay, where the judge keeps them. One copy waits at most, the newest. Nothing of this can
//! be seen: no answer, no failure, no progress. The review after the commit asks the same questions
//! to the same judge, so it is the same, only sooner.

use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Duration;

use crate::app::runtime::judge_provider::JudgeProvider;
use crate::judge::{Answer, Judge, JudgeError, Question};
use crate::review::{self, ReviewInput, Settings};
use crate::tree::{NodeId, Tree};

/// Pause after the last change before work begins: a line that is being typed is not worked on.
const SETTLED: Duration = Duration::from_millis(1_500);

/// The worker of one sitting. Dropping it ends the work after the question that is being answered.
pub(crate) struct BackgroundAnalysis(Arc<Slot>);

struct Slot {
    state: Mutex<State>,
    changed: Condvar,
}

#[derive(Default)]
struct State {
    /// The newest copy, until it is taken.
    next: Option<(Tree, Option<NodeId>)>,
    /// Counts the copies handed in; work on an older one stops.
    version: u64,
    over: bool,
}

impl Slot {
    fn state(&self) -> MutexGuard<'_, State> {
        // Fields are replaced whole.
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The newest copy once nothing has changed for a while; `None` when the sitting is over.
    fn take(&self) -> Option<((Tree, Option<NodeId>), u64)> {
        let mut state = self.state();
        loop {
            if state.over {
                return None;
            }
            let version = state.version;
            let wait = if state.next.is_some() {
                SETTLED
            } else {
                Duration::from_secs(3600)
            };
            let (guard, timeout) = self
                .changed
                .wait_timeout(state, wait)
                .unwrap_or_else(PoisonError::into_inner);
            state = guard;
            let settled = timeout.timed_out() && state.version == version && !state.over;
            if settled && let Some(next) = state.next.take() {
                return Some((next, version));
            }
        }
    }
}

/// Starts a worker for each sitting.
#[derive(Clone)]
pub(crate) struct BackgroundAnalyst {
    pub(crate) judges: Arc<JudgeProvider>,
    pub(crate) settings: Settings,
}

impl BackgroundAnalyst {
    pub(crate) fn start(&self) -> BackgroundAnalysis {
        let (judges, settings) = (self.judges.clone(), self.settings);
        let slot = Arc::new(Slot {
            state: Mutex::default(),
            changed: Condvar::new(),
        });
        let behind = slot.clone();
        thread::spawn(move || {
            while let Some(((tree, choice), version)) = behind.take() {
                work(&judges, &settings, &behind, (&tree, choice), version);
            }
        });
        BackgroundAnalysis(slot)
    }
}

impl BackgroundAnalysis {
    /// Hands the tree in as it now stands.
    pub(crate) fn offer(&self, tree: &Tree, choice: Option<NodeId>) {
        let mut state = self.0.state();
        state.next = Some((tree.clone(), choice));
        state.version += 1;
        self.0.changed.notify_one();
    }
}

impl Drop for BackgroundAnalysis {
    fn drop(&mut self) {
        self.0.state().over = true;
        self.0.changed.notify_one();
    }
}

/// Reviews a copy for the judge's answers alone. Its failures are told when the player asks for the
/// review, if they are still there.
fn work(
    bench: &JudgeProvider,
    settings: &Settings,
    slot: &Slot,
    (tree, choice): (&Tree, Option<NodeId>),
    version: u64,
) {
    let Ok(judge) = bench.judge() else { return };
    let written = ReviewInput {
        tree,
        choice: choice.or_else(|| tree.standing(NodeId::ROOT).next()),
        attempt: None,
        ply_in_game: None,
    };
    let patient = Patient {
        judge: &*judge,
        slot,
        version,
    };
    let thrown_away = review::review(&written, &patient, settings, &mut |_, _| {});
    drop(thrown_away);
}

/// Asks one question at a time, so that one process works at most, and stops when the tree has
/// changed.
struct Patient<'a> {
    judge: &'a dyn Judge,
    slot: &'a Slot,
    version: u64,
}

impl Judge for Patient<'_> {
    fn name(&self) -> String {
        self.judge.name()
    }

    fn identity(&self) -> String {
        self.judge.identity()
    }

    fn answer(&self, questions: &[Question]) -> Result<Vec<Answer>, JudgeError> {
        let mut answers = Vec::new();
        for question in questions {
            let state = self.slot.state();
            if state.over || state.version != self.version {
                let what = tr!("the tree has changed").to_owned();
                return Err(JudgeError::Table { what });
            }
            drop(state);
            answers.append(&mut self.judge.answer(std::slice::from_ref(question))?);
        }
        Ok(answers)
    }
}
