//! While a review is computed, or after the engine has failed.

use std::sync::Arc;

use super::command::{self, Do, Place};
use super::frame;
use super::help::HelpScreen;
use super::key::Key;
use super::model::{Desk, Next, Screen};
use super::page::{Ink, Page};
use super::review::ReviewScreen;
use crate::app::{ReviewState, SittingId};
use crate::review::Review;

/// Waiting for the review of one attempt.
pub struct Waiting {
    id: SittingId,
    label: String,
    /// The attempt could not be read again.
    failed: Option<String>,
}

impl Waiting {
    /// Begins the review where it is not under way.
    #[must_use]
    pub fn begin(desk: &Desk, id: SittingId, label: String) -> Screen {
        desk.app.begin_review(&id);
        Screen::Waiting(Self {
            id,
            label,
            failed: None,
        })
    }

    /// Goes over to the review once it is ready.
    #[must_use]
    pub fn tick(self, desk: &Desk) -> Next {
        match desk.app.review_state(&self.id) {
            Some(ReviewState::Ready(review)) if self.failed.is_none() => self.show(desk, review),
            _ => Next::Stay(Screen::Waiting(self)),
        }
    }

    fn show(mut self, desk: &Desk, review: Arc<Review>) -> Next {
        match desk.app.attempt(&self.id) {
            Ok(attempt) => {
                let screen =
                    ReviewScreen::new(desk, &self.label, review, attempt).kept_as(self.id.clone());
                Next::Stay(Screen::Review(Box::new(screen)))
            }
            Err(error) => {
                self.failed = Some(error.to_string());
                Next::Stay(Screen::Waiting(self))
            }
        }
    }

    fn failure(&self, desk: &Desk) -> Option<String> {
        match desk.app.review_state(&self.id) {
            Some(ReviewState::Failed(words)) => Some(words),
            _ => self.failed.clone(),
        }
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        match command::find(&[Place::Waiting], key) {
            Some(Do::Back) => return Next::Back,
            Some(Do::Help) => {
                return Next::Over(Screen::Waiting(self), HelpScreen::of(&[Place::Waiting]));
            }
            Some(Do::Again) if self.failure(desk).is_some() => {
                self.failed = None;
                desk.app.begin_review(&self.id);
            }
            _ => {}
        }
        Next::Stay(Screen::Waiting(self))
    }

    /// What changes without a key.
    #[must_use]
    pub fn moving(&self, desk: &Desk) -> String {
        match desk.app.review_state(&self.id) {
            Some(ReviewState::Working { done, total }) if total > 0 => {
                format!("{done} of {total} steps")
            }
            Some(ReviewState::Failed(words)) => words,
            _ => String::new(),
        }
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        frame::title(page, &self.label, "");
        let width = page.width() - 8;
        if let Some(words) = self.failure(desk) {
            page.put(4, 3, "The review could not be made.", Ink::ALERT.bold());
            let y = page.put_wrapped((4, 5, width, 6), &words, Ink::PLAIN);
            let words = "Your attempt is kept as it is. Press r to try again, or leave: it can be \
                         reviewed any time from the history.";
            page.put_wrapped((4, y + 1, width, 3), words, Ink::PLAIN);
        } else {
            page.put(
                4,
                3,
                "Comparing your tree with the truth ...",
                Ink::PLAIN.bold(),
            );
            page.put(4, 5, &self.moving(desk), Ink::QUIET);
        }
        frame::bar(page, Place::Waiting);
    }
}
