//! SIGTERM, SIGHUP, SIGINT and SIGQUIT while a command works: no engine stays behind.
//!
//! Engines are groups of their own, so that none of these reaches them. What is kept is kept by then, and
//! nothing else is to be done; the screens give the terminal back first, and so watch for themselves.

use std::sync::atomic::{AtomicBool, Ordering};

use crate::app::end_engines;
use crate::platform;

/// The screens stand: a signal is theirs.
static LEFT_TO_SCREENS: AtomicBool = AtomicBool::new(false);

/// Ends engines and program at the signals that are not ignored.
pub(crate) fn watch() {
    platform::at_the_end(|| {
        let ours = !LEFT_TO_SCREENS.load(Ordering::Relaxed);
        if ours {
            end_engines();
        }
        ours
    });
}

pub(crate) fn leave_to_screens() {
    LEFT_TO_SCREENS.store(true, Ordering::Relaxed);
}
