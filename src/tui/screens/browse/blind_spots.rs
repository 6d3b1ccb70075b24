//! Blind spots, each with the very moments it is made of: a moment opens in its review.

use crate::app::{AppError, BlindSpot, Missed};
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::labels;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::review::pending::Waiting;
use crate::tui::widgets::canvas::{Hit, Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;
use crate::tui::widgets::list::List;

/// The list.
pub struct HabitsScreen {
    spots: Vec<BlindSpot>,
    rows: Vec<Row>,
    list: List,
    answer: Option<Answer>,
}

/// One row: a blind spot, or a moment of the one above it, by their places.
#[derive(Debug, Clone, Copy)]
enum Row {
    Spot(usize),
    Moment(usize, usize),
}

impl HabitsScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(desk: &Desk) -> Result<Screen, AppError> {
        let spots = desk.app.progress().blind_spots()?;
        let rows = spots.iter().enumerate().flat_map(|(i, spot)| {
            let moments = (0..spot.missed.len()).map(move |k| Row::Moment(i, k));
            std::iter::once(Row::Spot(i)).chain(moments)
        });
        Ok(Screen::Habits(Self {
            rows: rows.collect(),
            spots,
            list: List::default(),
            answer: None,
        }))
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        self.answer = None;
        match bindings::find(&[Place::Habits], key) {
            Some(Do::Back) => return Next::Back,
            Some(Do::Help) => {
                return Next::Over(Screen::Habits(self), HelpScreen::of(&[Place::Habits]));
            }
            Some(Do::Open) => return self.show(desk),
            Some(run) => self.list.walk(run, self.rows.len()),
            None => {}
        }
        Next::Stay(Screen::Habits(self))
    }

    /// A click marks; a click on what is marked opens it.
    pub fn click(mut self, hit: Hit, desk: &Desk) -> Next {
        match hit {
            Hit::Item(item) if item == self.list.at() => return self.show(desk),
            Hit::Item(item) if item < self.rows.len() => self.list.go(item),
            _ => {}
        }
        Next::Stay(Screen::Habits(self))
    }

    fn moment(&self, row: Row) -> Option<&Missed> {
        match row {
            Row::Spot(_) => None,
            Row::Moment(spot, moment) => self.spots.get(spot)?.missed.get(moment),
        }
    }

    /// The marked moment in its review; on a blind spot the mark goes to its first moment.
    fn show(mut self, desk: &Desk) -> Next {
        let marked = self.rows.get(self.list.at()).copied();
        match marked.map(|row| (row, self.moment(row))) {
            Some((_, Some(missed))) => {
                let label = labels::origin(&desk.app, &missed.origin);
                let waiting = Waiting::at(desk, missed.id.clone(), label, missed.moment.clone());
                Next::Over(Screen::Habits(self), waiting)
            }
            Some((Row::Spot(_), _)) => {
                self.list.walk(Do::Down, self.rows.len());
                Next::Stay(Screen::Habits(self))
            }
            _ => Next::Stay(Screen::Habits(self)),
        }
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        let count = match self.spots.len() {
            0 => String::new(),
            n => format!("{n} found"),
        };
        chrome::title(page, "Habits", &count);
        let width = page.width() - 4;
        let told = match self.rows.get(self.list.at()) {
            Some(Row::Spot(spot) | Row::Moment(spot, _)) => self.spots.get(*spot),
            None => None,
        };
        let Some(told) = told else {
            let words = "Not enough yet, or nothing stands out: a habit is told only where you miss one kind \
                         of move more often than your other moves of the same depth.";
            let y = page.put_wrapped((2, 2, width, 4), words, Ink::PLAIN);
            page.put(2, y + 1, "All figures: foreply progress.", Ink::QUIET);
            return chrome::bar_without(page, Place::Habits, &[Do::Open]);
        };
        let y = page.put_wrapped((2, 2, width, 3), &told.sentence, Ink::PLAIN);
        page.put_wrapped((2, y, width, 2), &told.habit, Ink::ACCENT);
        let rows = page.height().saturating_sub(9);
        let line = |i: usize| self.line(i, desk);
        self.list
            .draw(page, (0, 7, page.width(), rows), self.rows.len(), &line);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 2);
        }
        chrome::bar(page, Place::Habits);
    }

    fn line(&self, row: usize, desk: &Desk) -> String {
        match self.rows.get(row) {
            Some(Row::Spot(spot)) => {
                let spot = self.spots.get(*spot);
                spot.map_or_else(String::new, |s| format!("{}:", s.words))
            }
            Some(row @ Row::Moment(..)) => self.moment(*row).map_or_else(String::new, |missed| {
                let date = labels::date(missed.wall_ms, &desk.zone);
                let place = labels::origin(&desk.app, &missed.origin);
                format!("  {date}  {place}: {}", missed.moment.words())
            }),
            None => String::new(),
        }
    }
}
