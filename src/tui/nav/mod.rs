//! The contract between the screens and the router.
//!
//! In comes nothing of its own: a screen implements [`screen::Screen`], is given the
//! [`context::Context`] and answers with a [`screen::Transition`]. Out goes a [`route::Route`], which
//! says as data what is to be opened next, with the sitting or game that goes on there
//! ([`sessions`]). So a screen can ask for any other without knowing it.
//!
//! It must never know a screen, the router or the terminal.

pub(crate) mod context;
pub(crate) mod route;
pub(crate) mod screen;
pub(crate) mod screen_input;
pub(crate) mod sessions;
pub(crate) mod tour_step;
