//! A progress bar on standard error, only where somebody looks at it.

use std::io::{IsTerminal, stderr};

use indicatif::{ProgressBar, ProgressStyle};

/// A bar that counts steps whose number may still grow.
pub(crate) struct Progress(ProgressBar);

impl Progress {
    /// Hidden where `quiet`, or where standard error is no terminal.
    pub(crate) fn new(quiet: bool, what: &str) -> Self {
        if quiet || !stderr().is_terminal() {
            return Self(ProgressBar::hidden());
        }
        let bar = ProgressBar::new(0).with_message(what.to_owned());
        if let Ok(style) = ProgressStyle::with_template("{msg} {bar:30} {pos}/{len} {elapsed}") {
            bar.set_style(style);
        }
        Self(bar)
    }

    /// A bar with the time that is left.
    pub(crate) fn timed(quiet: bool, what: &str) -> Self {
        let bar = Self::new(quiet, what);
        let form = "{msg} {bar:30} {pos}/{len} positions, {eta} left";
        if let Ok(style) = ProgressStyle::with_template(form) {
            bar.0.set_style(style);
        }
        bar
    }

    /// A bar over `size` bytes; `size` is 0 where nobody knows it.
    pub(crate) fn bytes(quiet: bool, what: &str, size: u64) -> Self {
        let bar = Self::new(quiet, what);
        bar.0.set_length(size);
        let form = "{msg} {bar:30} {bytes}/{total_bytes} {bytes_per_sec} {eta} left";
        if let Ok(style) = ProgressStyle::with_template(form) {
            bar.0.set_style(style);
        }
        bar
    }

    /// So many bytes are read.
    pub(crate) fn reached(&self, bytes: u64) {
        self.0.set_position(bytes);
    }

    /// Does something on the terminal while the bar is away.
    pub(crate) fn pause<T>(&self, work: impl FnOnce() -> T) -> T {
        self.0.suspend(work)
    }

    /// `done` of `all` steps.
    pub(crate) fn show(&self, done: usize, all: usize) {
        self.0.set_length(all as u64);
        self.0.set_position(done as u64);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}
