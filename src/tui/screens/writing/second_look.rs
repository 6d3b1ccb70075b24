//! The second look: after the lock and before the review, two minutes to write what is seen now.
//!
//! What is written is kept apart from the tree, which is final.

use std::collections::HashSet;

use super::locked::Locked;
use crate::app::Sitting;
use crate::attempt::What;
use crate::text;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::widgets::board::{BoardLook, BoardView, Scale};
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;
use crate::tui::widgets::line_editor::EntryLine;
use crate::tui::widgets::variation_tree::{TreeView, unmarked};

use shakmaty::Position;

/// How long it lasts, in milliseconds.
const LASTS_MS: u64 = 120_000;

/// The second look at one locked tree.
pub struct Second {
    sitting: Sitting,
    label: String,
    look: BoardLook,
    line: EntryLine,
    answer: Option<Answer>,
}

impl Second {
    /// Begins it, or takes it up again.
    #[must_use]
    pub fn begin(mut sitting: Sitting, label: String) -> Screen {
        let begun = match sitting.attempt().after().looked_again_ms() {
            Some(_) => Ok(()),
            None => sitting.add(What::SecondLook),
        };
        Screen::Second(Box::new(Self {
            look: BoardLook::of(sitting.tree().root().root()),
            sitting,
            label,
            line: EntryLine::default(),
            answer: begun.err().map(|e| Answer::error(&e)),
        }))
    }

    fn left_ms(&self) -> u64 {
        let since = self.sitting.attempt().after().looked_again_ms();
        let used = since.map_or(0, |since| self.sitting.now_ms().saturating_sub(since));
        LASTS_MS.saturating_sub(used)
    }

    /// What changes without a key.
    #[must_use]
    pub fn moving(&self) -> String {
        text::clock(self.left_ms().div_ceil(1000) * 1000)
    }

    pub fn press(mut self, key: Key) -> Next {
        self.answer = None;
        let places = &[Place::Second, Place::Line];
        match (bindings::find(places, key), key) {
            (Some(Do::Help), _) => {
                let help = HelpScreen::of(places);
                return Next::Over(Screen::Second(Box::new(self)), help);
            }
            (Some(Do::Back), _) => return self.over(),
            (Some(Do::Open), _) if self.line.text().trim().is_empty() => return self.over(),
            (Some(Do::Open), _) => self.keep(),
            (Some(Do::Flip), _) => self.look.flip(),
            (Some(Do::Edit(edit)), _) => self.line.edit(edit),
            (None, Key::Char(c)) => self.line.insert(c),
            _ => {}
        }
        Next::Stay(Screen::Second(Box::new(self)))
    }

    fn over(self) -> Next {
        let locked = Locked::new(self.sitting, self.label);
        Next::Stay(Screen::Locked(Box::new(locked)))
    }

    fn keep(&mut self) {
        if self.left_ms() == 0 {
            let words = "The two minutes are over: what was written before is kept.";
            self.answer = Some(Answer::Alert(words.to_owned()));
            return;
        }
        let text = self.line.text().trim().to_owned();
        match self.sitting.add(What::NowSeen { text }) {
            Ok(()) => {
                self.line.finish();
            }
            Err(error) => self.answer = Some(Answer::error(&error)),
        }
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        let title = format!("{}: a second look", self.label);
        chrome::title(page, &title, &self.moving());
        let scale = Scale::fitting(page);
        let tree = self.sitting.tree();
        let view = BoardView {
            board: tree.root().root().board(),
            look: self.look,
            glyphs: desk.glyphs,
            marked: &[],
        };
        view.draw(page, 0, 2, scale);
        let x = scale.width() + 3;
        let (width, height) = (page.width() - x, page.height().saturating_sub(7));
        let own = height.saturating_sub(self.sitting.attempt().after().seen().len() + 3);
        let view = TreeView {
            tree,
            choice: self.sitting.attempt().choice(),
            cursor: None,
            candidates_only: false,
            folded: &HashSet::new(),
            mark: &unmarked,
            ascii: desk.glyphs.ascii,
        };
        view.draw(page, (x, 2, width, own));
        let mut y = 3 + own;
        page.put(x, y, "What I now see", Ink::QUIET);
        for (_, seen) in self.sitting.attempt().after().seen() {
            y += 1;
            page.put(x + 2, y, seen, Ink::PLAIN);
        }
        let words =
            "Your tree stays as it is. Write what you see now, a line or words, each with Enter.";
        page.put_wrapped((0, 4 + scale.height(), scale.width(), 6), words, Ink::QUIET);
        let bottom = page.height();
        if let Some(answer) = &self.answer {
            answer.draw(page, bottom - 3);
        }
        chrome::entry_line(page, bottom - 2, "now I see >", &self.line);
        chrome::bar(page, Place::Second);
    }
}
