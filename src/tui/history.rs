//! All locked attempts, the newest first.

use super::command::{self, Do, Place};
use super::frame::{self, Answer};
use super::help::HelpScreen;
use super::key::Key;
use super::locked::Locked;
use super::model::{Desk, Next, Screen};
use super::page::{Hit, Ink, Page};
use super::waiting::Waiting;
use super::words;
use crate::app::{AppError, SittingId, Summary};
use crate::text;

/// The list.
pub struct HistoryScreen {
    all: Vec<(SittingId, Summary)>,
    at: usize,
    answer: Option<Answer>,
}

/// Rows of a page.
const PAGE: usize = 15;

impl HistoryScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(desk: &Desk) -> Result<Screen, AppError> {
        Ok(Screen::History(Self {
            all: desk.app.history()?,
            at: 0,
            answer: None,
        }))
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        self.answer = None;
        let last = self.all.len().saturating_sub(1);
        match command::find(&[Place::History], key) {
            Some(Do::Back) => return Next::Back,
            Some(Do::Help) => {
                return Next::Over(Screen::History(self), HelpScreen::of(&[Place::History]));
            }
            Some(Do::Open) => return self.show(desk),
            Some(Do::Up) => self.at = self.at.saturating_sub(1),
            Some(Do::Down) => self.at = (self.at + 1).min(last),
            Some(Do::PageUp) => self.at = self.at.saturating_sub(PAGE),
            Some(Do::PageDown) => self.at = (self.at + PAGE).min(last),
            _ => {}
        }
        Next::Stay(Screen::History(self))
    }

    /// A click marks; a click on what is marked opens it.
    pub fn click(mut self, hit: Hit, desk: &Desk) -> Next {
        match hit {
            Hit::Item(item) if item == self.at => return self.show(desk),
            Hit::Item(item) if item < self.all.len() => self.at = item,
            _ => {}
        }
        Next::Stay(Screen::History(self))
    }

    fn show(mut self, desk: &Desk) -> Next {
        let Some((id, summary)) = self.all.get(self.at).cloned() else {
            return Next::Stay(Screen::History(self));
        };
        let label = words::origin(&desk.app, &summary.origin);
        match desk.app.locked(&id) {
            Ok(sitting) => {
                let locked = Locked::new(sitting, label.clone());
                let next = if locked.asks() {
                    Screen::Locked(locked)
                } else {
                    Waiting::begin(desk, id, label)
                };
                Next::Over(Screen::History(self), next)
            }
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::History(self))
            }
        }
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        frame::title(page, "Attempts", &format!("{} in all", self.all.len()));
        if self.all.is_empty() {
            page.put(2, 2, "No attempt is locked yet.", Ink::QUIET);
        }
        let rows = page.height().saturating_sub(5);
        let skipped = self
            .at
            .saturating_sub(rows / 2)
            .min(self.all.len().saturating_sub(rows));
        for (i, (_, summary)) in self.all.iter().enumerate().skip(skipped).take(rows) {
            let y = 2 + i - skipped;
            let marked = i == self.at;
            let line = line(desk, summary);
            let line = text::fit(&line, page.width() - 2);
            page.put(0, y, if marked { ">" } else { " " }, Ink::ACCENT.bold());
            page.put(2, y, &line, Ink::PLAIN.turned(marked));
            page.hit(0, y, page.width(), 1, Hit::Item(i));
        }
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 2);
        }
        frame::bar(page, Place::History);
    }
}

/// One attempt in one line.
#[must_use]
pub fn line(desk: &Desk, summary: &Summary) -> String {
    format!(
        "{}  {}  {:>7}  {} {}",
        words::date(summary.wall_ms, &desk.zone),
        text::fit(&words::origin(&desk.app, &summary.origin), 14),
        text::clock(summary.used_ms),
        text::fit(&text::safe(&summary.choice), 8),
        result(summary)
    )
}

fn result(summary: &Summary) -> String {
    let Some(reviewed) = &summary.reviewed else {
        return "not reviewed yet".to_owned();
    };
    let findings = match reviewed.findings {
        0 => "clean".to_owned(),
        1 => "1 finding".to_owned(),
        n => format!("{n} findings"),
    };
    format!(
        "{findings}, needed {} reached {} sound {}",
        reviewed.needed, reviewed.reached, reviewed.sound
    )
}
