//! The review: what held first, then one finding at a time, with the board at its moment.
//!
//! `open_review.rs` holds what is shown, `view.rs` shows it.

use super::open_review::{OpenReview, ReviewPane};
use super::partial::ReviewSnapshot;
use super::view::ReviewView;
use crate::app::Subject;
use crate::attempt::Attempt;
use crate::tui::input::action::{Action, CommonAction, GameAction, ReviewAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::{ReviewRequest, Route};
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::tour_step::TourStep;
use crate::tui::widgets::canvas::{Canvas, ClickTarget};
use crate::tui::widgets::chrome::Notice;

/// A review on the screen.
pub struct ReviewScreen {
    review: OpenReview,
}

impl ReviewScreen {
    /// The review of a kept attempt: it can be answered.
    #[must_use]
    pub fn open(ctx: &Context, request: ReviewRequest, attempt: Attempt) -> Self {
        let snapshot = ReviewSnapshot::now(ctx, &request.id);
        let review = OpenReview::new(ctx, &request.label, snapshot, attempt)
            .kept_as(request.id)
            .opened_at(request.missed.map(|m| m.moment));
        Self { review }
    }

    /// Whatever is told of a review, of an attempt that nothing can be added to.
    #[cfg(test)]
    pub(crate) fn telling(review: OpenReview) -> Self {
        Self { review }
    }

    fn act(mut self: Box<Self>, action: Action, ctx: &Context) -> Transition {
        let review = &mut self.review;
        match action {
            Action::Common(CommonAction::Help) => {
                let help = Route::Help(review.key_contexts());
                return Transition::Push(self, help);
            }
            action if review.is_asking() => review.type_action(action, ctx),
            Action::Common(CommonAction::Back) if review.pane != ReviewPane::Findings => {
                review.pane = ReviewPane::Findings;
            }
            Action::Common(CommonAction::Back) => return Transition::Pop,
            Action::Review(ReviewAction::Doubt)
            | Action::Review(ReviewAction::Remark)
            | Action::Review(ReviewAction::Contest)
            | Action::Review(ReviewAction::CoachStrikes)
            | Action::Review(ReviewAction::Why) => review.begin(action, ctx),
            Action::Game(GameAction::PlayOut) => return self.play_out(),
            Action::Common(CommonAction::Again) => review.try_again(ctx),
            Action::Review(ReviewAction::Solution) => review.show_source(ctx),
            action => review.run(action),
        }
        self.settle()
    }

    /// After a ruling the review is computed again: what counts now, and what folds under it, follows
    /// from it.
    fn settle(self: Box<Self>) -> Transition {
        match self.review.id.clone().filter(|_| self.review.ruled) {
            Some(id) => {
                let request = ReviewRequest::of(id, self.review.label);
                Transition::Replace(Route::PendingReview(request))
            }
            None => Transition::Stay(self),
        }
    }

    /// The position of the attempt against the engine.
    fn play_out(self: Box<Self>) -> Transition {
        let root = self.review.attempt.tree().root().clone();
        let subject = Box::new(Subject::Position(root));
        Transition::Push(self, Route::NewGame(subject))
    }
}

impl Screen for ReviewScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        self.review.key_contexts()
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if !matches!(input, ScreenInput::Click(_)) {
            self.review.notice = None;
        }
        match input {
            ScreenInput::Action(action) => return self.act(action, ctx),
            ScreenInput::Pick(place) => self.review.pick_cause(place, ctx),
            ScreenInput::Char(c) => self.review.type_char(c),
            ScreenInput::Click(ClickTarget::Node(node)) => self.review.look_at(node),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn tick(&mut self, ctx: &Context) -> Option<Route> {
        self.review.listen(ctx);
        None
    }

    fn notify(&mut self, notice: Notice) {
        self.review.notice = Some(notice);
    }

    fn time_text(&self, _ctx: &Context) -> String {
        match self.review.arrivals {
            0 => String::new(),
            n => n.to_string(),
        }
    }

    fn tour_step(&self) -> Option<TourStep> {
        Some(TourStep::Review)
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let view = ReviewView {
            review: &self.review,
        };
        view.draw(canvas, ctx);
    }
}
