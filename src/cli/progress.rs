//! A progress bar on standard error, only where somebody looks at it.

use std::io::{IsTerminal, stderr};

use indicatif::{ProgressBar, ProgressStyle};

/// A bar that counts steps whose number may still grow.
pub(super) struct Progress(ProgressBar);

impl Progress {
    /// Hidden where `quiet`, or where standard error is no terminal.
    pub(super) fn new(quiet: bool, what: &str) -> Self {
        if quiet || !stderr().is_terminal() {
            return Self(ProgressBar::hidden());
        }
        let bar = ProgressBar::new(0).with_message(what.to_owned());
        if let Ok(style) = ProgressStyle::with_template("{msg} {bar:30} {pos}/{len} {elapsed}") {
            bar.set_style(style);
        }
        Self(bar)
    }

    /// `done` of `all` steps.
    pub(super) fn show(&self, done: usize, all: usize) {
        self.0.set_length(all as u64);
        self.0.set_position(done as u64);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}
