//! All positions, with filters: numbers and whose move it is, never a name, a source or a result.

use crate::app::{AppError, Subject};
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::labels;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::browse::drill_filter::{Card, Sieve};
use crate::tui::screens::game::screen::Playout;
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::writing::preview::Look;
use crate::tui::widgets::canvas::{Hit, Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;
use crate::tui::widgets::list::List;

/// The list of positions that pass the filters.
pub struct Collection {
    cards: Vec<Card>,
    sieve: Sieve,
    /// Places in the collection of those that pass.
    shown: Vec<usize>,
    list: List,
    answer: Option<Answer>,
}

impl Collection {
    /// # Errors
    /// The store cannot be read.
    pub fn open(desk: &Desk) -> Result<Screen, AppError> {
        let mut collection = Self {
            cards: Vec::new(),
            sieve: Sieve::default(),
            shown: Vec::new(),
            list: List::default(),
            answer: None,
        };
        collection.read(desk)?;
        Ok(Screen::Collection(collection))
    }

    fn read(&mut self, desk: &Desk) -> Result<(), AppError> {
        let history = desk.app.attempts().history()?;
        self.cards = Card::all(desk.app.drills().all(), history.iter().map(|(_, s)| s));
        self.sift();
        Ok(())
    }

    /// It is seen again: what was tried meanwhile counts as tried.
    pub fn refresh(&mut self, desk: &Desk) {
        self.answer = self.read(desk).err().map(|e| Answer::error(&e));
    }

    /// Lists again what passes.
    fn sift(&mut self) {
        let cards = self.cards.iter().enumerate();
        let passing = cards.filter(|(_, card)| self.sieve.passes(card));
        self.shown = passing.map(|(place, _)| place).collect();
        self.list.keep_within(self.shown.len());
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        self.answer = None;
        match bindings::find(&[Place::Collection], key) {
            Some(Do::Back) => return Next::Back,
            Some(Do::Help) => {
                let help = HelpScreen::of(&[Place::Collection]);
                return Next::Over(Screen::Collection(self), help);
            }
            Some(Do::Open) => return self.show(desk),
            Some(Do::PlayOut) => return self.play_out(desk),
            Some(Do::Fitting) => self.go_to_new(),
            Some(Do::Everything) => {
                self.sieve = Sieve::default();
                self.sift();
            }
            Some(Do::Pick) => {
                if let Some(filter) = key.digit().and_then(|d| d.checked_sub(1)) {
                    self.sieve.turn(filter);
                    self.sift();
                }
            }
            Some(run) => self.list.walk(run, self.shown.len()),
            None => {}
        }
        Next::Stay(Screen::Collection(self))
    }

    /// To the next one that was not tried, round the end.
    fn go_to_new(&mut self) {
        let is_new = |i: &usize| {
            let card = self.shown.get(*i).and_then(|p| self.cards.get(*p));
            card.is_some_and(Sieve::is_new)
        };
        let (count, at) = (self.shown.len(), self.list.at());
        match (at + 1..count).chain(0..count.min(at + 1)).find(is_new) {
            Some(found) => self.list.go(found),
            None => {
                let words = "You have tried all of these.";
                self.answer = Some(Answer::Quiet(words.to_owned()));
            }
        }
    }

    /// A click marks, and a click on what is marked opens it; on a filter it turns the filter.
    pub fn click(mut self, hit: Hit, desk: &Desk) -> Next {
        match hit {
            Hit::Item(item) if item == self.list.at() => return self.show(desk),
            Hit::Item(item) if item < self.shown.len() => self.list.go(item),
            Hit::Filter(filter) => {
                self.sieve.turn(filter);
                self.sift();
            }
            _ => {}
        }
        Next::Stay(Screen::Collection(self))
    }

    /// The marked position.
    fn subject(&self, desk: &Desk) -> Option<Subject> {
        let place = self.shown.get(self.list.at())?;
        let drill = desk.app.drills().all().get(*place)?;
        Some(Subject::Drill(drill.id.clone()))
    }

    fn show(self, desk: &Desk) -> Next {
        match self.subject(desk) {
            Some(subject) => self.over(Look::open(desk, &subject)),
            None => Next::Stay(Screen::Collection(self)),
        }
    }

    fn play_out(self, desk: &Desk) -> Next {
        match self.subject(desk) {
            Some(subject) => self.over(Playout::begin(desk, &subject)),
            None => Next::Stay(Screen::Collection(self)),
        }
    }

    fn over(mut self, screen: Result<Screen, AppError>) -> Next {
        match screen {
            Ok(screen) => Next::Over(Screen::Collection(self), screen),
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::Collection(self))
            }
        }
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        let count = match (self.shown.len(), self.cards.len()) {
            (shown, all) if shown == all => format!("{all} in all"),
            (shown, all) => format!("{shown} of {all}"),
        };
        chrome::title(page, "Positions", &count);
        self.draw_filters(page);
        if self.shown.is_empty() {
            let words = "No position is like this. 0 shows all again.";
            page.put(2, 4, words, Ink::QUIET);
        }
        let line = |i: usize| self.line(desk, i);
        let rows = page.height().saturating_sub(7);
        let area = (0, 4, page.width(), rows);
        self.list.draw(page, area, self.shown.len(), &line);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 2);
        }
        chrome::bar(page, Place::Collection);
    }

    fn draw_filters(&self, page: &mut Page) {
        let mut x = 2;
        for (i, (words, is_set)) in self.sieve.words().enumerate() {
            let from = x;
            x = page.put(x, 2, &(i + 1).to_string(), Ink::ACCENT.bold()) + 1;
            let ink = if is_set {
                Ink::PLAIN.bold().underlined()
            } else {
                Ink::QUIET
            };
            x = page.put(x, 2, words, ink);
            page.hit(from, 2, x - from, 1, Hit::Filter(i));
            x += 2;
        }
    }

    fn line(&self, desk: &Desk, i: usize) -> String {
        let place = self.shown.get(i).copied().unwrap_or_default();
        let Some((drill, card)) = desk
            .app
            .drills()
            .all()
            .get(place)
            .zip(self.cards.get(place))
        else {
            return String::new();
        };
        let tried = card.tried_ms.map_or_else(
            || "not tried".to_owned(),
            |ms| format!("tried {}", labels::date(ms, &desk.zone)),
        );
        format!("{}  {tried}", labels::drill(&desk.app, drill))
    }
}
