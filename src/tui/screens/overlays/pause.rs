//! The clock stands: nothing of the position is seen, so that nothing can be thought about it.

use super::help::HelpScreen;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::labels;
use crate::tui::router::{Next, Screen};
use crate::tui::screens::writing::screen::Entry;
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;

/// A sitting that pauses.
pub struct Pause {
    pub(crate) entry: Entry,
    answer: Option<Answer>,
}

impl Pause {
    /// Stops the clock; where that cannot be kept the entry goes on.
    #[must_use]
    pub fn of(mut entry: Entry) -> Next {
        match entry.sitting.leave() {
            Ok(()) => Next::Stay(Screen::Pause(Box::new(Self {
                entry,
                answer: None,
            }))),
            Err(error) => entry.stay(Answer::error(&error)),
        }
    }

    pub fn press(mut self, key: Key) -> Next {
        self.answer = None;
        match bindings::find(&[Place::Paused], key) {
            Some(Do::Open) => match self.entry.sitting.go_on() {
                Ok(()) => return Next::Stay(Screen::Entry(Box::new(self.entry))),
                Err(error) => self.answer = Some(Answer::error(&error)),
            },
            Some(Do::Back) => return Next::Home(Some(labels::KEPT.to_owned())),
            Some(Do::Help) => {
                let help = HelpScreen::of(&[Place::Paused]);
                return Next::Over(Screen::Pause(Box::new(self)), help);
            }
            _ => {}
        }
        Next::Stay(Screen::Pause(Box::new(self)))
    }

    pub fn draw(&self, page: &mut Page) {
        chrome::title(page, &self.entry.label, "");
        page.put(4, 3, "The clock stands.", Ink::PLAIN.bold());
        let words = "Board and tree are hidden meanwhile. Nothing is lost; the time until you go on \
                     does not count.";
        page.put_wrapped((4, 5, page.width() - 8, 3), words, Ink::PLAIN);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 3);
        }
        chrome::bar(page, Place::Paused);
    }
}
