//! While a review is computed, or after the engine has failed.

use crate::app::{ReviewState, SittingId};
use crate::progress::Moment;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::review::partial::Told;
use crate::tui::screens::review::screen::ReviewScreen;
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;

/// Waiting for the review of one attempt.
pub struct Waiting {
    id: SittingId,
    label: String,
    /// The attempt could not be read again.
    failed: Option<String>,
    /// The review opens at this moment.
    moment: Option<Moment>,
}

impl Waiting {
    /// Begins the review where it is not under way.
    #[must_use]
    pub fn begin(desk: &Desk, id: SittingId, label: String) -> Screen {
        Self::to(desk, id, label, None)
    }

    /// The same, for one moment of the attempt.
    #[must_use]
    pub fn at(desk: &Desk, id: SittingId, label: String, moment: Moment) -> Screen {
        Self::to(desk, id, label, Some(moment))
    }

    fn to(desk: &Desk, id: SittingId, label: String, moment: Option<Moment>) -> Screen {
        desk.app.reviews().begin(&id);
        Screen::Waiting(Self {
            id,
            label,
            failed: None,
            moment,
        })
    }

    /// Goes over to the review once something of it is sure.
    #[must_use]
    pub fn tick(self, desk: &Desk) -> Next {
        match Told::of(desk, &self.id) {
            Some(told) if self.failed.is_none() => self.show(desk, told),
            _ => Next::Stay(Screen::Waiting(self)),
        }
    }

    fn show(mut self, desk: &Desk, told: Told) -> Next {
        match desk.app.attempts().attempt(&self.id) {
            Ok(attempt) => {
                let screen = ReviewScreen::telling(desk, &self.label, told, attempt)
                    .kept_as(self.id.clone())
                    .opened_at(self.moment.take());
                Next::Stay(Screen::Review(Box::new(screen)))
            }
            Err(error) => {
                self.failed = Some(error.to_string());
                Next::Stay(Screen::Waiting(self))
            }
        }
    }

    fn failure(&self, desk: &Desk) -> Option<String> {
        match desk.app.reviews().state(&self.id) {
            Some(ReviewState::Failed(words)) => Some(words),
            _ => self.failed.clone(),
        }
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        match bindings::find(&[Place::Waiting], key) {
            Some(Do::Back) => return Next::Back,
            Some(Do::Help) => {
                return Next::Over(Screen::Waiting(self), HelpScreen::of(&[Place::Waiting]));
            }
            Some(Do::Again) if self.failure(desk).is_some() => {
                self.failed = None;
                desk.app.reviews().begin(&self.id);
            }
            _ => {}
        }
        Next::Stay(Screen::Waiting(self))
    }

    /// What changes without a key.
    #[must_use]
    pub fn moving(&self, desk: &Desk) -> String {
        match desk.app.reviews().state(&self.id) {
            Some(ReviewState::Working { done, total }) if total > 0 => {
                format!("{done} of {total} steps")
            }
            Some(ReviewState::Failed(words)) => words,
            _ => String::new(),
        }
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        chrome::title(page, &self.label, "");
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
            self.draw_right(page, desk, (4, 7, width, page.height().saturating_sub(9)));
        }
        let without: &[Do] = match self.failure(desk) {
            Some(_) => &[],
            None => &[Do::Again],
        };
        chrome::bar_without(page, Place::Waiting, without);
    }

    /// What held is known before anything else.
    fn draw_right(
        &self,
        page: &mut Page,
        desk: &Desk,
        (x, mut y, width, rows): (usize, usize, usize, usize),
    ) {
        let bottom = y + rows;
        for right in &desk.app.reviews().so_far(&self.id).right {
            let words = format!("What held: {}", right.note);
            let room = bottom.saturating_sub(y).min(3);
            y = page.put_wrapped((x, y, width, room), &words, Ink::PLAIN);
        }
    }
}
