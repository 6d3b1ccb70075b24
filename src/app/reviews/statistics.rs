//! What is kept of a review for counting across attempts.

use std::sync::Arc;

use crate::app::AppError;
use crate::app::attempts::records::{AttemptId, root_of};
use crate::app::attempts::repository::{AttemptRepository, Step};
use crate::attempt::{Attempt, Opened, Origin};
use crate::progress::{self, Circumstances, Source, Struck};
use crate::review::{Review, value_of_verdict};

/// Keeps the figures of reviewed attempts.
#[derive(Clone)]
pub(crate) struct StatisticsRecorder {
    pub(crate) repository: Arc<AttemptRepository>,
    /// Difference of expected score that counts, 0 to 1.
    pub(crate) delta: f64,
}

impl StatisticsRecorder {
    /// Keeps what a review says, in short for the history and beyond its own tree, in one step.
    pub(crate) fn keep(
        &self,
        id: &AttemptId,
        attempt: &Attempt,
        review: &Review,
    ) -> Result<(), AppError> {
        let mut step = self.repository.step();
        step.summarise(id, attempt, Some(review))?;
        self.count(&mut step, id, attempt, review)?;
        step.keep()
    }

    fn count(
        &self,
        step: &mut Step<'_>,
        id: &AttemptId,
        attempt: &Attempt,
        review: &Review,
    ) -> Result<(), AppError> {
        let root = root_of(attempt);
        let opened = attempt.opened();
        let of = Circumstances {
            wall_ms: opened.wall_ms,
            source: source(opened),
            sight: opened.sight,
            first: step.sight(&root, id)?,
            forecast: forecast(attempt),
            root: root.to_string(),
        };
        let struck = struck(attempt);
        let (counted, moments) = progress::counted(of, review, &struck, self.delta);
        step.put(&id.0, &moments)?;
        step.put(&id.0, &counted)
    }
}

/// What his verdict at the end of the choice's line says he expects.
fn forecast(attempt: &Attempt) -> Option<f64> {
    let tree = attempt.tree();
    let verdict = tree.node(attempt.end_of_choice()?)?.verdict?;
    value_of_verdict(verdict, tree.root().player()).map(|e| e.value())
}

fn source(opened: &Opened) -> Source {
    match &opened.origin {
        _ if opened.quick.is_some() => Source::Quick,
        Origin::Notes(_) => Source::Notes,
        Origin::Playout { .. } => Source::PlayOut,
        Origin::Drill(_) | Origin::Position | Origin::Homework { .. } => Source::Sitting,
    }
}

/// The findings of an attempt that a coach has struck. The one place that knows how they are kept.
fn struck(attempt: &Attempt) -> Vec<Struck> {
    let overruled = attempt.coached().map_or(&[][..], |c| c.overruled());
    let named = overruled.iter().filter_map(|o| {
        Some(Struck {
            path: o.finding.path.clone(),
            // A ruling on a whole place names no move: its findings have their class from the review.
            resource: o.finding.resource.clone()?,
        })
    });
    named.collect()
}
