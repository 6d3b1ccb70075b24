//! A review on standard output while it is being made: the sentence it opens with as soon as the decisive point is
//! sure, then what held, then each finding as soon as it is sure. Only what is final is printed, and nothing is
//! printed twice: what is left in the end is told from where the telling stopped.

use crate::cli::Failure;
use crate::cli::shell::error::print;
use crate::cli::shell::progress_bar::Progress;
use crate::report::{self, Reviewed, Subject};
use crate::review::{Credit, Finding, ReviewObserver};

pub(crate) struct Telling<'a> {
    bar: Progress,
    /// What the text begins with; `None` where nothing is told before the end.
    of: Option<&'a Subject>,
    /// What held, once it is known.
    right: Option<Vec<Credit>>,
    /// Findings that were sure before what held was known, which stands before them.
    waiting: Vec<Finding>,
    so_far: SoFar,
}

/// What was printed.
struct SoFar {
    /// The head with the opening.
    opening: bool,
    right: bool,
    findings: usize,
    printed: Result<(), Failure>,
}

impl<'a> Telling<'a> {
    pub(crate) fn new(bar: Progress, of: Option<&'a Subject>) -> Self {
        Self {
            bar,
            of,
            right: None,
            waiting: Vec::new(),
            so_far: SoFar {
                opening: false,
                right: false,
                findings: 0,
                printed: Ok(()),
            },
        }
    }

    /// What is left to do once the review is there; `None` where nothing is told.
    pub(crate) fn rest(self) -> Option<Rest> {
        self.of.map(|_| Rest(self.so_far))
    }

    /// What can be told now: what held stands behind the opening, and the findings behind both.
    fn tell_in_order(&mut self) {
        let (Some(of), Some(right)) = (self.of, &self.right) else {
            return;
        };
        if !self.so_far.opening {
            return;
        }
        let mut text = String::new();
        if !self.so_far.right {
            text.push_str(&report::text_right(of, right));
            self.so_far.right = true;
        }
        for finding in std::mem::take(&mut self.waiting) {
            self.so_far.findings += 1;
            text.push_str(&report::text_of_finding(of, self.so_far.findings, &finding));
        }
        self.tell(&text);
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
        if !self.0.opening {
            text.push_str(&report::text_head(of));
            text.push_str(&report::text_opening(&review.opening));
        }
        if !self.0.right {
            text.push_str(&report::text_right(of, &review.right));
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
        self.right = Some(right.to_vec());
        self.tell_in_order();
    }

    fn opening(&mut self, opening: &str) {
        if let Some(of) = self.of {
            let text = report::text_head(of) + &report::text_opening(opening);
            self.tell(&text);
            self.so_far.opening = true;
        }
        self.tell_in_order();
    }

    fn finding(&mut self, finding: &Finding) {
        if self.of.is_some() {
            self.waiting.push(finding.clone());
            self.tell_in_order();
        }
    }
}
