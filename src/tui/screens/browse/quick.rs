//! Quick calculation: what it comes to, as the command prints it, and the next position of a ladder.

use crate::app::{AppError, QuickOffer};
use crate::tui::input::action::{Action, CommonAction, ListAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::canvas::Canvas;
use crate::tui::widgets::chrome::{self, Notice};
use crate::tui::widgets::page::{PageScroll, TextPage};

const CONTEXTS: &[KeyContext] = &[KeyContext::Quick];

/// What calculation at speed comes to.
pub struct QuickScreen {
    text: String,
    scroll: PageScroll,
    notice: Option<Notice>,
}

impl QuickScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(ctx: &Context) -> Result<Self, AppError> {
        Ok(Self::of(Self::text(ctx)?))
    }

    fn text(ctx: &Context) -> Result<String, AppError> {
        let found = ctx.app.progress().quick(&ctx.display.zone)?;
        Ok((ctx.texts.quick)(&found))
    }

    /// The page in the words that are given.
    #[must_use]
    pub(crate) fn of(text: String) -> Self {
        Self {
            text,
            scroll: PageScroll::default(),
            notice: None,
        }
    }

    /// A sitting on what is offered; where nothing is left that is said.
    fn sit(mut self: Box<Self>, offer: Result<QuickOffer, AppError>) -> Transition {
        match offer {
            Ok(offer) => Transition::Push(self, Route::Preview(Box::new(offer.subject))),
            Err(error) => {
                self.notice = Some(Notice::error(&error));
                Transition::Stay(self)
            }
        }
    }
}

impl Screen for QuickScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        self.notice = None;
        match input {
            ScreenInput::Action(Action::Common(CommonAction::Back)) => return Transition::Pop,
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            ScreenInput::Action(Action::List(ListAction::Quick)) => {
                return self.sit(ctx.app.quick().next(None));
            }
            // A ladder has the number that stands before it on the page.
            ScreenInput::Pick(place) => {
                let number = u8::try_from(place + 1).unwrap_or(u8::MAX);
                return self.sit(ctx.app.quick().next(Some(number)));
            }
            ScreenInput::Action(action) => self.scroll.walk(action),
            _ => {}
        }
        Transition::Stay(self)
    }

    /// A sitting may have come between.
    fn uncovered(&mut self, ctx: &Context) -> Option<Route> {
        match Self::text(ctx) {
            Ok(text) => self.text = text,
            Err(error) => self.notice = Some(Notice::error(&error)),
        }
        None
    }

    fn notify(&mut self, notice: Notice) {
        self.notice = Some(notice);
    }

    fn draw(&self, canvas: &mut Canvas, _ctx: &Context) {
        chrome::title(canvas, tr!("What speed comes to"), "");
        let mut page = TextPage::new(canvas.width());
        page.lines(&self.text);
        let rows = canvas.height().saturating_sub(4);
        page.draw(canvas, (0, 2, rows), &self.scroll);
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        chrome::bar(canvas, KeyContext::Quick);
    }
}
