//! After the lock: what could not be asked before is asked now; the review can wait.

use crate::text;
use crate::tree::NodeId;
use crate::tui::forms::clarification::Clarification;

use crate::tui::input::action::{Action, CommonAction, WritingAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::labels;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::{ReviewRequest, Route};
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::sessions::LockedAttempt;
use crate::tui::nav::tour_step::TourStep;
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;

/// A locked tree whose review has not been opened.
pub struct LockedScreen {
    locked: LockedAttempt,
    /// Ambiguous moves that are to stay so.
    left_open: Vec<NodeId>,
    notice: Option<Notice>,
}

impl LockedScreen {
    #[must_use]
    pub fn new(locked: LockedAttempt) -> Self {
        Self {
            locked,
            left_open: Vec::new(),
            notice: None,
        }
    }

    /// True where something is left to ask.
    fn asks(&self) -> bool {
        self.question().is_some()
    }

    fn question(&self) -> Option<Clarification> {
        Clarification::of(&self.locked.sitting, &self.left_open)
    }

    fn act(mut self: Box<Self>, action: Action, ctx: &Context) -> Transition {
        match action {
            Action::Common(CommonAction::Open) => return self.see(),
            Action::Writing(WritingAction::SecondLook) => {
                return Transition::Replace(Route::SecondLook(Box::new(self.locked)));
            }
            Action::Common(CommonAction::ForCoach) => return self.send(ctx),
            Action::Common(CommonAction::Back) => {
                return Transition::Back(Notice::Quiet(self.words()));
            }
            Action::Common(CommonAction::Help) => {
                let help = Route::Help(self.key_contexts());
                return Transition::Push(self, help);
            }
            Action::Writing(WritingAction::LeaveOpen) => {
                self.left_open.extend(self.question().map(|q| q.node))
            }
            _ => {}
        }
        Transition::Stay(self)
    }

    fn see(self: Box<Self>) -> Transition {
        let id = self.locked.sitting.id().clone();
        let request = ReviewRequest::of(id, self.locked.label);
        Transition::Replace(Route::PendingReview(request))
    }

    fn send(mut self: Box<Self>, ctx: &Context) -> Transition {
        match ctx
            .app
            .coach()
            .send_to_coach(self.locked.sitting.id(), &ctx.display.zone)
        {
            Ok(file) => Transition::Back(Notice::Quiet(labels::for_coach(&file))),
            Err(error) => {
                self.notice = Some(Notice::error(&error));
                Transition::Stay(self)
            }
        }
    }

    fn pick(&mut self, place: usize) {
        let Some(question) = self.question() else {
            return;
        };
        if let Some((_, uci)) = question.meanings.get(place) {
            let kept = self.locked.sitting.clarify(question.node, uci);
            self.notice = kept.err().map(|e| Notice::error(&e));
        }
    }

    fn words(&self) -> String {
        tr!("Locked {}.", text::clock(self.locked.sitting.used_ms()))
    }
}

impl Screen for LockedScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        if self.asks() {
            &[KeyContext::Clarify]
        } else {
            &[KeyContext::Locked]
        }
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if !matches!(input, ScreenInput::Click(_)) {
            self.notice = None;
        }
        match input {
            ScreenInput::Action(action) => return self.act(action, ctx),
            ScreenInput::Pick(place) => self.pick(place),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn tour_step(&self) -> Option<TourStep> {
        Some(TourStep::Locked)
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        chrome::title(canvas, &self.locked.label, "");
        canvas.put(4, 3, &self.words(), TextStyle::PLAIN.bold());
        match self.question() {
            Some(question) => self.draw_question(canvas, &question),
            None => {
                let words = tr!(
                    "Your tree is final. See now where it and the truth part, or later: \
                             it waits for you in the history."
                );
                let y = canvas.put_wrapped((4, 5, canvas.width() - 8, 4), words, TextStyle::PLAIN);
                let words = tr!(
                    "If something is still going round in your head: press 2 and write it down \
                             first. It is kept apart from the tree."
                );
                let y =
                    canvas.put_wrapped((4, y + 1, canvas.width() - 8, 3), words, TextStyle::QUIET);
                // Where it cannot be read it is not said.
                if let Ok(Some(why)) = ctx.app.practice().why_chosen(self.locked.sitting.id()) {
                    canvas.put_wrapped((4, y + 1, canvas.width() - 8, 3), &why, TextStyle::QUIET);
                }
            }
        }
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 3);
        }
        let context = if self.asks() {
            KeyContext::Clarify
        } else {
            KeyContext::Locked
        };
        chrome::bar(canvas, context);
    }
}

impl LockedScreen {
    fn draw_question(&self, canvas: &mut Canvas, question: &Clarification) {
        let words = question.words(self.locked.sitting.tree());
        let y = canvas.put_wrapped((4, 5, canvas.width() - 8, 4), &words, TextStyle::PLAIN) + 1;
        for (i, (san, _)) in question.meanings.iter().enumerate() {
            canvas.put(6, y + i, &(i + 1).to_string(), TextStyle::ACCENT.bold());
            canvas.put(9, y + i, san, TextStyle::PLAIN.bold());
        }
    }
}
