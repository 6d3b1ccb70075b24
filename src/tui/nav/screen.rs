//! One screen, as the router sees it, and what it answers.

use crate::app::AppError;
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::tour_step::TourStep;
use crate::tui::widgets::canvas::Canvas;
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

/// What follows an input. The screen that had it is given away with it, so that a sitting goes on in
/// one place only.
pub enum Transition {
    /// The screen goes on.
    Stay(Box<dyn Screen>),
    /// Another one on top of the screen, which goes on below.
    Push(Box<dyn Screen>, Route),
    /// Another one in its place.
    Replace(Route),
    /// The screen below.
    Pop,
    /// The screen below, with something to say there.
    Back(Notice),
    /// The home screen alone, with something to say there.
    Home(Option<Notice>),
    /// The screen below, with the tour beside it.
    StartTour,
    Quit,
}
