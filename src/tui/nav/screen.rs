//! One screen, as the router sees it.

use crate::app::AppError;
use crate::tui::input::action::Action;
use crate::tui::input::bindings::{self, KeyContext};
use crate::tui::input::key::Key;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::transition::Transition;
use crate::tui::widgets::canvas::{Canvas, ClickTarget};
use crate::tui::widgets::chrome::Notice;

/// One screen.
pub trait Screen: Send {
    /// Which bindings are valid: keys, bottom line and help follow from it.
    fn key_contexts(&self) -> &'static [KeyContext];

    /// Does what a key or a click means here.
    fn handle(self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition;

    /// Lets time pass; a route where the screen gives way to another.
    fn tick(&mut self, _ctx: &Context) -> Option<Route> {
        None
    }

    /// What lay over it is gone: what may have changed is read again. A route where another screen
    /// takes its place.
    fn uncovered(&mut self, _ctx: &Context) -> Option<Route> {
        None
    }

    /// Takes something to say, where what it asked for could not be opened.
    fn notify(&mut self, _notice: Notice) {}

    /// What depends on time alone: drawn again when it changes.
    fn time_text(&self, _ctx: &Context) -> String {
        String::new()
    }

    /// The step of the tour that belongs to it.
    fn tour_step(&self) -> Option<TourStep> {
        None
    }

    /// The program ends.
    ///
    /// # Errors
    /// What goes on here could not be kept.
    fn close(&mut self) -> Result<(), AppError> {
        Ok(())
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context);
}

/// What a screen has to answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScreenInput {
    Action(Action),
    /// One of several, counted from 0: what a digit means where one picks.
    Pick(usize),
    /// A character that is bound to nothing.
    Char(char),
    /// Enter, where it is bound to nothing.
    Enter,
    /// Any other key that is bound to nothing.
    Unbound,
    Click(ClickTarget),
}

impl ScreenInput {
    /// What a key means where these bindings are valid.
    #[must_use]
    pub fn of_key(contexts: &[KeyContext], key: Key) -> Self {
        match (bindings::find(contexts, key), key) {
            (Some(Action::Pick), _) => {
                let place = key.digit().and_then(|d| d.checked_sub(1));
                place.map_or(Self::Unbound, Self::Pick)
            }
            (Some(action), _) => Self::Action(action),
            (None, Key::Char(c)) => Self::Char(c),
            (None, Key::Enter) => Self::Enter,
            (None, _) => Self::Unbound,
        }
    }
}

/// A step of the tour. It depends on the screen and on how far the tree has come, never on what is
/// written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TourStep {
    Preview,
    FirstMove,
    FirstLine,
    NextCandidate,
    Choose,
    Commit,
    Locked,
    Review,
}
