//! While a review is computed, or after the engine has failed.

use crate::app::ReviewState;
use crate::tui::input::action::{Action, CommonAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::{ReviewRequest, Route};
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::screens::review::partial::ReviewSnapshot;
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;

const CONTEXTS: &[KeyContext] = &[KeyContext::PendingReview];

/// Waiting for the review of one attempt.
pub struct PendingReviewScreen {
    request: ReviewRequest,
    /// The attempt could not be read again.
    failed: Option<String>,
}

impl PendingReviewScreen {
    /// Begins the review where it is not under way.
    #[must_use]
    pub fn begin(ctx: &Context, request: ReviewRequest) -> Self {
        ctx.app.reviews().begin(&request.id);
        Self {
            request,
            failed: None,
        }
    }

    fn failure(&self, ctx: &Context) -> Option<String> {
        match ctx.app.reviews().state(&self.request.id) {
            Some(ReviewState::Failed(words)) => Some(words),
            _ => self.failed.clone(),
        }
    }

    /// How far it has come, or why it has stopped.
    fn progress(&self, ctx: &Context) -> String {
        match ctx.app.reviews().state(&self.request.id) {
            Some(ReviewState::Working { done, total }) if total > 0 => {
                tr!("{done} of {total} steps")
            }
            Some(ReviewState::Failed(words)) => words,
            _ => String::new(),
        }
    }
}

impl Screen for PendingReviewScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        match input {
            ScreenInput::Action(Action::Common(CommonAction::Back)) => return Transition::Pop,
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            ScreenInput::Action(Action::Common(CommonAction::Again))
                if self.failure(ctx).is_some() =>
            {
                self.failed = None;
                ctx.app.reviews().begin(&self.request.id);
            }
            _ => {}
        }
        Transition::Stay(self)
    }

    /// Goes over to the review once something of it is sure.
    fn tick(&mut self, ctx: &Context) -> Option<Route> {
        let id = &self.request.id;
        if self.failed.is_some() || !ReviewSnapshot::now(ctx, id).has_begun() {
            return None;
        }
        match ctx.app.attempts().attempt(id) {
            Ok(attempt) => Some(Route::Review(self.request.clone(), Box::new(attempt))),
            Err(error) => {
                self.failed = Some(error.to_string());
                None
            }
        }
    }

    fn time_text(&self, ctx: &Context) -> String {
        self.progress(ctx)
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        chrome::title(canvas, &self.request.label, "");
        let width = canvas.width() - 8;
        if let Some(words) = self.failure(ctx) {
            canvas.put(
                4,
                3,
                tr!("The review could not be made."),
                TextStyle::ALERT.bold(),
            );
            let y = canvas.put_wrapped((4, 5, width, 6), &words, TextStyle::PLAIN);
            let words = tr!(
                "Your attempt is kept as it is. Press r to try again, or leave: it can be \
                         reviewed any time from the history."
            );
            canvas.put_wrapped((4, y + 1, width, 3), words, TextStyle::PLAIN);
        } else {
            canvas.put(
                4,
                3,
                tr!("Comparing your tree with the truth ..."),
                TextStyle::PLAIN.bold(),
            );
            canvas.put(4, 5, &self.progress(ctx), TextStyle::QUIET);
            self.draw_right(
                canvas,
                ctx,
                (4, 7, width, canvas.height().saturating_sub(9)),
            );
        }
        let without: &[Action] = match self.failure(ctx) {
            Some(_) => &[],
            None => &[Action::Common(CommonAction::Again)],
        };
        chrome::bar_without(canvas, KeyContext::PendingReview, without);
    }
}

impl PendingReviewScreen {
    /// What held is known before anything else.
    fn draw_right(
        &self,
        canvas: &mut Canvas,
        ctx: &Context,
        (x, mut y, width, rows): (usize, usize, usize, usize),
    ) {
        let bottom = y + rows;
        for right in &ctx.app.reviews().so_far(&self.request.id).right {
            let words = tr!("What held: {}", right.note);
            let room = bottom.saturating_sub(y).min(3);
            y = canvas.put_wrapped((x, y, width, room), &words, TextStyle::PLAIN);
        }
    }
}
