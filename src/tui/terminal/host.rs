//! The screens on any backend of the terminal library: what [`crate::tui::run`] shows on the real terminal, and
//! what the benchmark drives without one.

use std::sync::atomic::AtomicBool;

use cursive::{Cursive, CursiveRunner};
use jiff::tz::TimeZone;

use crate::app::{App, AppError};
use crate::tui::nav::context::{Context, DisplayOptions, NewAttemptOptions};
use crate::tui::router::Router;
use crate::tui::terminal::colours::Colours;
use crate::tui::terminal::event_loop;
use crate::tui::terminal::root_view::RouterHandle;
use crate::tui::widgets::board::Glyphs;
use crate::tui::{Options, ReportTexts, Start, TuiError};

/// The screens, with the colours they are drawn in.
pub struct ScreenHost {
    pub(crate) router: RouterHandle,
    pub(crate) colours: Colours,
}

impl ScreenHost {
    /// Opens the first screen. `variable` is asked for the environment's variables, which decide about
    /// colours.
    ///
    /// `texts` tells whole reports.
    ///
    /// # Errors
    /// The first screen cannot be opened.
    pub fn open(
        app: App,
        start: &Start,
        options: Options,
        texts: ReportTexts,
        variable: &dyn Fn(&str) -> Option<String>,
    ) -> Result<Self, TuiError> {
        let colours = Colours::of(variable);
        let ctx = Context {
            app,
            display: DisplayOptions {
                glyphs: Glyphs {
                    ascii: options.ascii,
                    plain: colours == Colours::None,
                },
                letters: options.letters,
                zone: TimeZone::system(),
                tour: options.tour,
            },
            new_attempts: NewAttemptOptions {
                minutes: options.minutes,
                sight: options.sight,
                look_s: options.look_s,
            },
            texts,
        };
        let router = RouterHandle::new(Router::new(ctx, start)?);
        Ok(Self { router, colours })
    }

    /// The terminal library's root with the screens in it, for a backend.
    #[must_use]
    pub fn cursive(&self) -> Cursive {
        event_loop::cursive(&self.router, self.colours)
    }

    /// Lets time pass; true where the screen has to be drawn again.
    pub fn tick(&self) -> bool {
        self.router.lock().tick()
    }

    /// The event loop of the program, until the player leaves or `stop` is set.
    pub fn turn(&self, runner: &mut CursiveRunner<Cursive>, stop: &AtomicBool) {
        event_loop::turn(runner, &self.router, &[stop]);
    }

    /// Leaves an open sitting.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn close(&self) -> Result<(), AppError> {
        self.router.lock().close()
    }
}
