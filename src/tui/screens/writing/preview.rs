//! The position before writing: the board, and in words what it does not show.

use shakmaty::{Color, Position};

use crate::app::{AppError, Sitting, Subject};
use crate::attempt::Sight;
use crate::text;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::labels;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::writing::screen::Entry;
use crate::tui::widgets::board::{BoardLook, BoardView, Scale};
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;

/// The first look.
pub struct Look {
    sitting: Sitting,
    label: String,
    look: BoardLook,
    /// Milliseconds of looking before writing may begin; 0 for none.
    closed_ms: u64,
    answer: Option<Answer>,
}

/// How long the board is seen in a sitting without sight, where the player names no other time, in
/// seconds.
const SIGHT_S: u32 = 60;

impl Look {
    /// Opens a new sitting on its first look.
    ///
    /// # Errors
    /// There is no such drill, or the opening could not be kept.
    pub fn open(desk: &Desk, subject: &Subject) -> Result<Screen, AppError> {
        let sitting = desk
            .app
            .attempts()
            .open_sitting(subject, desk.minutes, desk.sight)?;
        let label = labels::origin(&desk.app, &sitting.attempt().opened().origin);
        Ok(Screen::Look(Box::new(Self {
            look: BoardLook::of(sitting.tree().root().root()),
            closed_ms: u64::from(desk.look_s.unwrap_or(0)) * 1000,
            sitting,
            label,
            answer: None,
        })))
    }

    /// A new sitting on what is to be practised next.
    ///
    /// # Errors
    /// There is no drill, or the opening could not be kept.
    pub fn next(desk: &Desk) -> Result<Screen, AppError> {
        Self::open(desk, &desk.app.attempts().next_subject()?)
    }

    /// Milliseconds of looking that are left before writing may begin.
    fn closed_for_ms(&self) -> u64 {
        self.closed_ms.saturating_sub(self.sitting.now_ms())
    }

    /// Milliseconds until the board is hidden; `None` where it stays.
    fn seen_for_ms(&self) -> Option<u64> {
        let hides = self.sitting.attempt().opened().sight == Sight::None;
        let seen = if self.closed_ms == 0 {
            u64::from(SIGHT_S) * 1000
        } else {
            self.closed_ms
        };
        hides.then(|| seen.saturating_sub(self.sitting.now_ms()))
    }

    /// The board as it may be seen now.
    fn shown(&self) -> BoardLook {
        let over = self.seen_for_ms() == Some(0);
        BoardLook {
            hidden: self.look.hidden || over,
            ..self.look
        }
    }

    /// What changes without a key.
    #[must_use]
    pub fn moving(&self) -> String {
        let seconds = |ms: u64| ms.div_ceil(1000);
        let seen = self.seen_for_ms().map(seconds);
        format!("{} {seen:?}", seconds(self.closed_for_ms()))
    }

    pub fn press(mut self, key: Key) -> Next {
        self.answer = None;
        match bindings::find(&[Place::Look], key) {
            Some(Do::Open) if self.closed_for_ms() > 0 => {
                let words = "Look first: writing opens when the time for looking is over.";
                self.answer = Some(Answer::Quiet(words.to_owned()));
            }
            Some(Do::Open) => return self.start(),
            Some(Do::Sight) => self.next_sight(),
            Some(Do::Letters) => self.look.letters ^= true,
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

    fn next_sight(&mut self) {
        let next = match self.sitting.attempt().opened().sight {
            Sight::Root => Sight::Follow,
            Sight::Follow => Sight::None,
            Sight::None => Sight::Root,
        };
        let done = self.sitting.see(next);
        self.answer = done.err().map(|e| Answer::error(&e));
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
        let turn = labels::side(root.player());
        let title = format!("{}: {turn} to move", self.label);
        let budget = labels::clock(self.sitting.left_ms(), 0);
        chrome::title(page, &title, &budget);
        let scale = Scale::fitting(page);
        let view = BoardView {
            board: root.root().board(),
            look: self.shown(),
            glyphs: desk.glyphs,
            marked: &[],
        };
        view.draw(page, 0, 2, scale);
        self.facts(page, scale.width() + 4);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 2);
        }
        chrome::bar(page, Place::Look);
    }

    /// What he will see of the board while he writes.
    fn sight(&self) -> String {
        match (self.sitting.attempt().opened().sight, self.seen_for_ms()) {
            (Sight::Root, _) => "The board stays as it is while you write.".to_owned(),
            (Sight::Follow, _) => "The board follows what you write.".to_owned(),
            (Sight::None, Some(left @ 1..)) => {
                let left = text::clock(left.div_ceil(1000) * 1000);
                format!("The board is hidden in {left}, or when you start.")
            }
            (Sight::None, _) => "You write without the board.".to_owned(),
        }
    }

    fn facts(&self, page: &mut Page, x: usize) {
        let root = self.sitting.tree().root();
        let width = page.width() - x;
        let mut y = 2;
        for fact in labels::facts(root) {
            y = page.put_wrapped((x, y, width, 3), &fact, Ink::PLAIN);
        }
        y += 1;
        for color in [Color::White, Color::Black] {
            let men = labels::material(root.root(), color);
            y = page.put_wrapped((x, y, width, 3), &men, Ink::PLAIN);
        }
        y += 1;
        let time = match self.sitting.attempt().opened().budget_ms {
            Some(ms) => format!("You have {} minutes from when you start.", ms / 60_000),
            None => "There is no time limit.".to_owned(),
        };
        y = page.put_wrapped((x, y, width, 2), &time, Ink::PLAIN);
        y = page.put_wrapped((x, y, width, 2), &self.sight(), Ink::PLAIN) + 1;
        if self.closed_for_ms() > 0 {
            let left = text::clock(self.closed_for_ms().div_ceil(1000) * 1000);
            let words = format!("Only look for now: writing opens in {left}.");
            y = page.put_wrapped((x, y, width, 2), &words, Ink::ACCENT) + 1;
        }
        let job = "Look first. Then write down every candidate move you consider, the lines you see \
                   and how you judge where they end. Nothing is said about it until you lock it.";
        page.put_wrapped((x, y, width, 6), job, Ink::QUIET);
    }
}
