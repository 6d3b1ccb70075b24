//! What the router does after an input.

use crate::tui::nav::route::Route;
use crate::tui::nav::screen::Screen;
use crate::tui::widgets::chrome::Notice;

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
    /// The home screen alone, with something to say there.
    Home(Option<Notice>),
    /// The screen below, with the tour beside it.
    StartTour,
    Quit,
}
