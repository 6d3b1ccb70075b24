//! A page on an own game or an event: judged behind the screen, then read.

use std::sync::mpsc::{self, Receiver};
use std::thread;

use crate::app::{App, AppError, Step};
use crate::games::survey::Settings;
use crate::tui::input::action::{Action, CommonAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::{Context, ReportTexts};
use crate::tui::nav::route::{OwnPage, Route};
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::page::{PageScroll, TextPage};

/// It is scrolled as the figures are.
const CONTEXTS: &[KeyContext] = &[KeyContext::Figures];

/// The page.
pub struct OwnGamePageScreen {
    title: &'static str,
    coming: Option<Receiver<Coming>>,
    far: Option<Step>,
    told: Option<Result<String, AppError>>,
    scroll: PageScroll,
}

enum Coming {
    Step(Step),
    Done(Result<String, AppError>),
}

impl OwnGamePageScreen {
    /// Begins to judge; the screen waits for it.
    #[must_use]
    pub fn begin(ctx: &Context, page: OwnPage) -> Self {
        let title = match &page {
            OwnPage::Thoughts(_) => "Your own thoughts, and the game",
            OwnPage::Account(_) => "The game",
            OwnPage::Event(_) => "The event",
            OwnPage::Opponent(_) => "The opponent",
        };
        let (send, receive) = mpsc::channel();
        let (app, texts) = (ctx.app.clone(), ctx.texts);
        thread::spawn(move || {
            // Nobody listens any more where the screen was left meanwhile.
            let mut step = |step| drop(send.send(Coming::Step(step)));
            let told = tell(&app, &texts, &page, &mut step);
            let _ = send.send(Coming::Done(told));
        });
        Self {
            title,
            coming: Some(receive),
            far: None,
            told: None,
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
        OwnPage::Account(id) => {
            let game = app.games().own_game(id)?;
            let read = app.games().account_of_game(&game, &settings, step)?;
            Ok((texts.own_game)(&read))
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
        while let Some(came) = self.coming.as_ref().and_then(|c| c.try_recv().ok()) {
            match came {
                Coming::Step(step) => self.far = Some(step),
                Coming::Done(told) => {
                    self.told = Some(told);
                    self.coming = None;
                }
            }
        }
        None
    }

    fn time_text(&self, _ctx: &Context) -> String {
        let far = self.far.map_or(0, |s| 100 * s.done / s.of.max(1));
        format!("{far} {}", self.told.is_some())
    }

    fn draw(&self, canvas: &mut Canvas, _ctx: &Context) {
        chrome::title(canvas, self.title, "");
        match &self.told {
            None => {
                let far = self.far.map_or_else(String::new, |s| {
                    format!(" {} of {} positions", s.done, s.of)
                });
                let words = format!("Going through the game ...{far}");
                canvas.put(4, 3, &words, TextStyle::PLAIN.bold());
            }
            Some(Err(error)) => {
                let area = (4, 3, canvas.width() - 8, 6);
                canvas.put_wrapped(area, &error.to_string(), TextStyle::ALERT.bold());
            }
            Some(Ok(text)) => {
                let mut page = TextPage::new(canvas.width());
                page.lines(text);
                let rows = canvas.height().saturating_sub(4);
                page.draw(canvas, (0, 2, rows), &self.scroll);
            }
        }
        chrome::bar(canvas, KeyContext::Figures);
    }
}
