//! What all attempts say together, and how each of these figures is made, as the commands print it.

use crate::app::AppError;
use crate::tui::input::action::{Action, CommonAction, ListAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::canvas::Canvas;
use crate::tui::widgets::chrome;
use crate::tui::widgets::page::{PageScroll, TextPage};

const CONTEXTS: &[KeyContext] = &[KeyContext::Figures];

/// The figures of all attempts.
pub struct FiguresScreen {
    text: String,
    /// How they are made, while that is shown.
    method: Option<String>,
    scroll: PageScroll,
}

impl FiguresScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(ctx: &Context) -> Result<Self, AppError> {
        let report = ctx.app.progress().report(&ctx.display.zone)?;
        Ok(Self::of((ctx.texts.progress)(&report)))
    }

    /// The text of a report.
    #[must_use]
    pub(crate) fn of(text: String) -> Self {
        Self {
            text,
            method: None,
            scroll: PageScroll::default(),
        }
    }
}

impl Screen for FiguresScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        match input {
            ScreenInput::Action(Action::List(ListAction::Method)) => {
                self.scroll = PageScroll::default();
                self.method = match self.method {
                    Some(_) => None,
                    None => Some((ctx.texts.method)()),
                };
            }
            ScreenInput::Action(Action::Common(CommonAction::Back)) if self.method.is_some() => {
                self.scroll = PageScroll::default();
                self.method = None;
            }
            ScreenInput::Action(Action::Common(CommonAction::Back)) => return Transition::Pop,
            ScreenInput::Action(Action::List(ListAction::Speed)) => {
                return Transition::Push(self, Route::Quick);
            }
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            ScreenInput::Action(action) => self.scroll.walk(action),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn draw(&self, canvas: &mut Canvas, _ctx: &Context) {
        let title = match self.method {
            Some(_) => tr!("How each figure is made"),
            None => tr!("Figures of all attempts"),
        };
        chrome::title(canvas, title, "");
        let mut page = TextPage::new(canvas.width());
        page.lines(self.method.as_ref().unwrap_or(&self.text));
        let rows = canvas.height().saturating_sub(4);
        page.draw(canvas, (0, 2, rows), &self.scroll);
        chrome::bar(canvas, KeyContext::Figures);
    }
}
