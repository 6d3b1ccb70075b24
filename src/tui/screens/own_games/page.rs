//! A page on an own game or an event: judged behind the screen, then read.

use super::waiting::Waiting;
use crate::app::{App, AppError, Step};
use crate::games::survey::Settings;
use crate::tui::input::action::{Action, CommonAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::{Context, ReportTexts};
use crate::tui::nav::route::{OwnPage, Route};
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::canvas::Canvas;
use crate::tui::widgets::chrome;
use crate::tui::widgets::page::{PageScroll, TextPage};

const CONTEXTS: &[KeyContext] = &[KeyContext::Page];

/// The page.
pub struct OwnGamePageScreen {
    title: &'static str,
    text: Waiting<String>,
    scroll: PageScroll,
}

impl OwnGamePageScreen {
    /// Begins to judge; the screen waits for it.
    #[must_use]
    pub fn begin(ctx: &Context, page: OwnPage) -> Self {
        let title = match &page {
            OwnPage::Thoughts(_) => tr!("Your own thoughts, and the game"),
            OwnPage::Event(_) => tr!("The event"),
            OwnPage::Opponent(_) => tr!("The opponent"),
        };
        let texts = ctx.texts;
        Self {
            title,
            text: Waiting::begin(&ctx.app, move |app, step| tell(app, &texts, &page, step)),
            scroll: PageScroll::default(),
        }
    }
}

fn tell(
    app: &App,
    texts: &ReportTexts,
    page: &OwnPage,
    step: &mut dyn FnMut(Step),
) -> Result<String, AppError> {
    let settings = Settings::default();
    match page {
        OwnPage::Thoughts(id) => {
            let game = app.games().own_game(id)?;
            let read = app.games().compare_thoughts(&game, &settings, step)?;
            Ok((texts.thoughts)(&read))
        }
        OwnPage::Event(id) => {
            let event = app.games().event_of_game(id)?;
            let read = app.games().account_of_event(&event, &settings, step)?;
            Ok((texts.event)(&read))
        }
        OwnPage::Opponent(name) => Ok((texts.opponent)(&app.games().opponent(name, &[])?)),
    }
}

impl Screen for OwnGamePageScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, _ctx: &Context) -> Transition {
        match input {
            ScreenInput::Action(Action::Common(CommonAction::Back)) => return Transition::Pop,
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            ScreenInput::Action(action) => self.scroll.walk(action),
            _ => {}
        }
        Transition::Stay(self)
    }

    /// The page comes.
    fn tick(&mut self, _ctx: &Context) -> Option<Route> {
        self.text.take();
        None
    }

    fn time_text(&self, _ctx: &Context) -> String {
        self.text.time_text()
    }

    fn draw(&self, canvas: &mut Canvas, _ctx: &Context) {
        chrome::title(canvas, self.title, "");
        if let Some(text) = self.text.draw(canvas) {
            let mut page = TextPage::new(canvas.width());
            page.lines(text);
            let rows = canvas.height().saturating_sub(4);
            page.draw(canvas, (0, 2, rows), &self.scroll);
        }
        chrome::bar(canvas, KeyContext::Page);
    }
}
