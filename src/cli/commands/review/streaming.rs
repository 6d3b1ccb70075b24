//! A review on standard output while it is being made: what held first, then each finding as soon as it is sure.
//! In the end the output is the same, byte for byte, as if it had been printed at once.

use crate::cli::Failure;
use crate::cli::shell::error::print;
use crate::cli::shell::progress_bar::Progress;
use crate::report::{self, Reviewed, Subject};
use crate::review::{Credit, Finding, ReviewObserver};

pub(crate) struct Telling<'a> {
    bar: Progress,
    /// What the text begins with; `None` where nothing is told before the end.
    of: Option<&'a Subject>,
    /// What is printed already.
    told: String,
    findings: usize,
    printed: Result<(), Failure>,
}

impl<'a> Telling<'a> {
    pub(crate) fn new(bar: Progress, of: Option<&'a Subject>) -> Self {
        Self {
            bar,
            of,
            told: String::new(),
            findings: 0,
            printed: Ok(()),
        }
    }

    /// What is left to do once the review is there.
    pub(crate) fn rest(self) -> Rest {
        Rest {
            told: self.of.map(|_| self.told),
            printed: self.printed,
        }
    }

    fn tell(&mut self, text: &str) {
        if self.printed.is_ok() {
            self.told.push_str(text);
            self.printed = self.bar.pause(|| print(text));
        }
    }
}

/// What was printed, where something is to be printed at all.
pub(crate) struct Rest {
    told: Option<String>,
    printed: Result<(), Failure>,
}

impl Rest {
    /// Prints what is not told yet of the whole text.
    pub(crate) fn tell(self, reviewed: &Reviewed) -> Result<(), Failure> {
        self.printed?;
        let Some(told) = self.told else {
            return Ok(());
        };
        let whole = report::text_of_one(reviewed);
        print(whole.strip_prefix(&told).unwrap_or(&whole))
    }
}

impl ReviewObserver for Telling<'_> {
    fn progress(&mut self, answered: usize, asked: usize) {
        self.bar.show(answered, asked);
    }

    fn right(&mut self, right: &[Credit]) {
        if let Some(of) = self.of {
            self.tell(&report::text_before(of, right));
        }
    }

    fn finding(&mut self, finding: &Finding) {
        if self.of.is_some() {
            self.findings += 1;
            self.tell(&report::text_of_finding(self.findings, finding));
        }
    }
}
