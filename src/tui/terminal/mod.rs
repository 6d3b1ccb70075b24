//! The real terminal, and the one place that knows the terminal library.
//!
//! Events of the library come in and go to the router as keys and clicks; what the router draws goes
//! out in the colours there are. The terminal is given back whatever happens.
//!
//! It must never know a screen, an attempt or a use case beyond opening and closing the program. The
//! benchmark drives the same screens without a terminal through [`host::ScreenHost`].

mod backend;
pub mod colours;
pub mod event_loop;
pub mod host;
pub mod root_view;
