//! The screens, one file each, in eight folders.
//!
//! A [`ScreenInput`](crate::tui::nav::screen_input::ScreenInput) comes in; a
//! [`Transition`](crate::tui::nav::screen::Transition) goes out, and a drawing on a canvas. What is to
//! follow is asked for as a [`Route`](crate::tui::nav::route::Route).
//!
//! No screen may know another one, the router or the terminal; those in `writing` and `recalling` may know nothing that
//! tells how good a move is.

pub mod browse;
pub mod game;
pub mod overlays;
pub mod own_games;
pub mod recalling;
pub mod review;
pub mod sheets;
pub mod writing;
