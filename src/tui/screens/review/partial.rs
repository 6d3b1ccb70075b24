//! What is told of a review: all of it, or what is sure while the rest is still being computed.

use std::sync::Arc;

use crate::app::{AttemptId, ReviewState, SoFar};
use crate::review::{Credit, Finding, Review};
use crate::tui::nav::context::Context;

/// A review, as far as it is known.
pub enum ReviewSnapshot {
    Whole(Arc<Review>),
    SoFar(PartialReview),
}

/// A review that is being computed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PartialReview {
    sure: SoFar,
    /// Steps done and known so far; both 0 as long as nothing is known.
    steps: (usize, usize),
    /// Why it stopped.
    failed: Option<String>,
}

impl ReviewSnapshot {
    /// What is known of a review now.
    #[must_use]
    pub fn now(ctx: &Context, id: &AttemptId) -> Self {
        let mut snapshot = Self::SoFar(PartialReview::default());
        snapshot.listen(ctx, id);
        snapshot
    }

    /// True once a finding is sure, or it is whole.
    #[must_use]
    pub fn has_begun(&self) -> bool {
        self.whole().is_some() || !self.findings().is_empty()
    }

    /// The whole review, once it is there.
    #[must_use]
    pub fn whole(&self) -> Option<&Review> {
        match self {
            Self::Whole(review) => Some(review),
            Self::SoFar(_) => None,
        }
    }

    /// The sentence that the review opens with, once it is known.
    #[must_use]
    pub fn opening(&self) -> Option<&str> {
        let opening = match self {
            Self::Whole(review) => &review.opening,
            Self::SoFar(growing) => &growing.sure.opening,
        };
        (!opening.is_empty()).then_some(opening)
    }

    /// What held; of a review that is being computed nothing as long as it is not known.
    #[must_use]
    pub fn right(&self) -> &[Credit] {
        match self {
            Self::Whole(review) => &review.right,
            Self::SoFar(growing) => &growing.sure.right,
        }
    }

    /// The findings in their final order; those that come later stand behind these.
    #[must_use]
    pub fn findings(&self) -> &[Finding] {
        match self {
            Self::Whole(review) => &review.findings,
            Self::SoFar(growing) => &growing.sure.findings,
        }
    }

    /// The whole review, or in words how far it has come.
    ///
    /// # Errors
    /// The words, as long as it is not whole.
    pub fn state(&self) -> Result<&Review, String> {
        match self {
            Self::Whole(review) => Ok(review),
            Self::SoFar(growing) => Err(growing.words()),
        }
    }

    /// Takes up what has come since; true where something has.
    pub fn listen(&mut self, ctx: &Context, id: &AttemptId) -> bool {
        let Self::SoFar(growing) = self else {
            return false;
        };
        let before = growing.clone();
        match ctx.app.reviews().state(id) {
            Some(ReviewState::Ready(review)) => {
                *self = Self::Whole(review);
                return true;
            }
            Some(ReviewState::Failed(words)) => growing.failed = Some(words),
            Some(ReviewState::Working { done, total }) => {
                growing.steps = (done, total);
                growing.failed = None;
            }
            None => {}
        }
        growing.take(ctx.app.reviews().so_far(id));
        *growing != before
    }

    /// Begins the review anew after a failure.
    pub fn try_again(&mut self, ctx: &Context, id: &AttemptId) {
        if let Self::SoFar(growing) = self
            && growing.failed.take().is_some()
        {
            ctx.app.reviews().begin(id);
        }
    }
}

impl PartialReview {
    /// After a new beginning there is less at first than is shown already: the same comes again.
    fn take(&mut self, sure: SoFar) {
        if sure.findings.len() >= self.sure.findings.len()
            && sure.right.len() >= self.sure.right.len()
        {
            self.sure = sure;
        }
    }

    fn words(&self) -> String {
        match (&self.failed, self.steps) {
            (Some(words), _) => tr!("The rest could not be made (r tries again): {words}"),
            (None, (_, 0)) => tr!("Still comparing.").to_owned(),
            (None, (done, total)) => {
                tr!("Still comparing: {done} of {total} steps. More may come.")
            }
        }
    }
}
