//! A review on standard output while it is being made: the sentence it opens with and what held, then each finding
//! as soon as it is sure. Only what is final is printed, and nothing is printed twice: what is left in the end is
//! told from where the telling stopped.

use crate::cli::Failure;
use crate::cli::shell::error::print;
use crate::cli::shell::progress_bar::Progress;
use crate::report::{self, Reviewed, Subject};
use crate::review::{Credit, Finding, ReviewObserver};

pub(crate) struct Telling<'a> {
    bar: Progress,
    /// What the text begins with; `None` where nothing is told before the end.
    of: Option<&'a Subject>,
    /// What held, kept until the opening is known that stands before it.
    right: Vec<Credit>,
    so_far: SoFar,
}

/// What was printed.
struct SoFar {
    head: bool,
    opening: bool,
    findings: usize,
    printed: Result<(), Failure>,
}

impl<'a> Telling<'a> {
    pub(crate) fn new(bar: Progress, of: Option<&'a Subject>) -> Self {
        Self {
            bar,
            of,
            right: Vec::new(),
            so_far: SoFar {
                head: false,
                opening: false,
                findings: 0,
                printed: Ok(()),
            },
        }
    }

    /// What is left to do once the review is there; `None` where nothing is told.
    pub(crate) fn rest(self) -> Option<Rest> {
        self.of.map(|_| Rest(self.so_far))
    }

    fn tell(&mut self, text: &str) {
        if self.so_far.printed.is_ok() {
            self.so_far.printed = self.bar.pause(|| print(text));
        }
    }
}

/// What is told in the end.
pub(crate) struct Rest(SoFar);

impl Rest {
    /// Prints what is not told yet.
    pub(crate) fn tell(self, reviewed: &Reviewed) -> Result<(), Failure> {
        self.0.printed?;
        let Reviewed { of, review } = reviewed;
        let mut text = String::new();
        if !self.0.head {
            text.push_str(&report::text_head(of));
        }
        if !self.0.opening {
            text.push_str(&report::text_opening(of, &review.opening, &review.right));
        }
        text.push_str(&report::text_after(reviewed, self.0.findings));
        print(&text)
    }
}

impl ReviewObserver for Telling<'_> {
    fn progress(&mut self, answered: usize, asked: usize) {
        self.bar.show(answered, asked);
    }

    fn right(&mut self, right: &[Credit]) {
        if let Some(of) = self.of {
            self.right = right.to_vec();
            self.tell(&report::text_head(of));
            self.so_far.head = true;
        }
    }

    fn opening(&mut self, opening: &str) {
        if let Some(of) = self.of {
            let text = report::text_opening(of, opening, &self.right);
            self.tell(&text);
            self.so_far.opening = true;
        }
    }

    fn finding(&mut self, finding: &Finding) {
        if let Some(of) = self.of {
            self.so_far.findings += 1;
            self.tell(&report::text_of_finding(of, self.so_far.findings, finding));
        }
    }
}
