//! The position before writing: the board, and in words what it does not show.

use shakmaty::{Color, Position};

use super::board_view::{BoardLook, BoardView, Scale};
use super::command::{self, Do, Place};
use super::entry::Entry;
use super::frame::{self, Answer};
use super::help::HelpScreen;
use super::key::Key;
use super::model::{Desk, Next, Screen};
use super::page::{Ink, Page};
use super::words;
use crate::app::{AppError, Sitting, Subject};

/// The first look.
pub struct Look {
    sitting: Sitting,
    label: String,
    look: BoardLook,
    answer: Option<Answer>,
}

impl Look {
    /// Opens a new sitting on its first look.
    ///
    /// # Errors
    /// There is no such drill, or the opening could not be kept.
    pub fn open(desk: &Desk, subject: &Subject) -> Result<Screen, AppError> {
        let sitting = desk.app.open_sitting(subject, desk.minutes, desk.sight)?;
        let label = words::origin(&desk.app, &sitting.attempt().opened().origin);
        Ok(Screen::Look(Box::new(Self {
            look: BoardLook::of(sitting.tree().root().root()),
            sitting,
            label,
            answer: None,
        })))
    }

    pub fn press(mut self, key: Key) -> Next {
        self.answer = None;
        match command::find(&[Place::Look], key) {
            Some(Do::Open) => return self.start(),
            Some(Do::Flip) => self.look.flip(),
            Some(Do::Coordinates) => self.look.coordinates ^= true,
            Some(Do::Hide) => self.look.hidden ^= true,
            Some(Do::Help) => {
                return Next::Over(Screen::Look(Box::new(self)), HelpScreen::of(&[Place::Look]));
            }
            Some(Do::Back) => return Next::Home(None),
            _ => {}
        }
        Next::Stay(Screen::Look(Box::new(self)))
    }

    fn start(mut self) -> Next {
        match self.sitting.start() {
            Ok(()) => Next::Stay(Screen::Entry(Box::new(Entry::new(
                self.sitting,
                self.label,
                self.look,
            )))),
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::Look(Box::new(self)))
            }
        }
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        let root = self.sitting.tree().root();
        let turn = words::side(root.player());
        let title = format!("{}: {turn} to move", self.label);
        let budget = words::clock(self.sitting.left_ms(), 0);
        frame::title(page, &title, &budget);
        let scale = Scale::fitting(page);
        let view = BoardView {
            board: root.root().board(),
            look: self.look,
            glyphs: desk.glyphs,
            marked: &[],
        };
        view.draw(page, 0, 2, scale);
        self.facts(page, scale.width() + 4);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 2);
        }
        frame::bar(page, Place::Look);
    }

    fn facts(&self, page: &mut Page, x: usize) {
        let root = self.sitting.tree().root();
        let width = page.width() - x;
        let mut y = 2;
        for fact in words::facts(root) {
            y = page.put_wrapped((x, y, width, 3), &fact, Ink::PLAIN);
        }
        y += 1;
        for color in [Color::White, Color::Black] {
            let men = words::material(root.root(), color);
            y = page.put_wrapped((x, y, width, 3), &men, Ink::PLAIN);
        }
        y += 1;
        let time = match self.sitting.attempt().opened().budget_ms {
            Some(ms) => format!("You have {} minutes from when you start.", ms / 60_000),
            None => "There is no time limit.".to_owned(),
        };
        y = page.put_wrapped((x, y, width, 2), &time, Ink::PLAIN) + 1;
        let job = "Look first. Then write down every candidate move you consider, the lines you see \
                   and how you judge where they end. Nothing is said about it until you lock it.";
        page.put_wrapped((x, y, width, 6), job, Ink::QUIET);
    }
}
