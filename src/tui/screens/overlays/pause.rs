//! The clock stands: nothing of the position is seen, so that nothing can be thought about it.

use crate::tui::input::action::{Action, CommonAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::labels;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::sessions::OpenAttempt;
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;

const CONTEXTS: &[KeyContext] = &[KeyContext::Paused];

/// A sitting that pauses.
pub struct PauseScreen {
    open: OpenAttempt,
    notice: Option<Notice>,
}

impl PauseScreen {
    /// The clock stands already.
    #[must_use]
    pub fn new(open: OpenAttempt) -> Self {
        Self { open, notice: None }
    }

    fn go_on(mut self: Box<Self>) -> Transition {
        match self.open.sitting.go_on() {
            Ok(()) => Transition::Replace(Route::Writing(Box::new(self.open))),
            Err(error) => {
                self.notice = Some(Notice::error(&error));
                Transition::Stay(self)
            }
        }
    }
}

impl Screen for PauseScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, _ctx: &Context) -> Transition {
        if !matches!(input, ScreenInput::Click(_)) {
            self.notice = None;
        }
        match input {
            ScreenInput::Action(Action::Common(CommonAction::Open)) => self.go_on(),
            ScreenInput::Action(Action::Common(CommonAction::Back)) => Transition::Back(
                Notice::Quiet(crate::translation::text(labels::KEPT).to_owned()),
            ),
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                Transition::Push(self, Route::Help(CONTEXTS))
            }
            _ => Transition::Stay(self),
        }
    }

    fn draw(&self, canvas: &mut Canvas, _ctx: &Context) {
        chrome::title(canvas, &self.open.label, "");
        canvas.put(4, 3, tr!("The clock stands."), TextStyle::PLAIN.bold());
        let words = tr!(
            "Board and tree are hidden meanwhile. Nothing is lost; the time until you go on \
                     does not count."
        );
        canvas.put_wrapped((4, 5, canvas.width() - 8, 3), words, TextStyle::PLAIN);
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 3);
        }
        chrome::bar(canvas, KeyContext::Paused);
    }
}
