//! The home screen: what to practise now, and what was written last.

use super::board_view::BoardLook;
use super::command::{self, Do, Place};
use super::entry::Entry;
use super::frame::{self, Answer};
use super::help::HelpScreen;
use super::history::HistoryScreen;
use super::key::Key;
use super::look::Look;
use super::model::{Desk, Next, Screen};
use super::page::{Hit, Ink, Page};
use super::words;
use crate::app::{AppError, Next as Offer, SittingId, Subject, Summary, Unfinished};
use crate::attempt::Origin;
use crate::games::OWN;
use crate::text;

/// The list of what can be opened.
pub struct Home {
    unfinished: Vec<Unfinished>,
    /// The drill that is next, and how many there are.
    drills: usize,
    history: Vec<(SittingId, Summary)>,
    at: usize,
    /// Minutes at hand.
    minutes: u32,
    /// What fits into them, in the order in which it is to be practised.
    fitting: Vec<Offer>,
    answer: Option<Answer>,
}

/// Minutes at hand where nothing else is said, and the steps in which they change.
const MINUTES: u32 = 20;
const STEP: u32 = 5;
const MINUTES_MAX: u32 = 120;

impl Home {
    /// The home screen; what the store cannot give is told there.
    #[must_use]
    pub fn open(desk: &Desk, words: Option<String>) -> Self {
        match Self::load(desk) {
            Ok(mut home) => {
                home.answer = words.map(Answer::Quiet);
                home
            }
            Err(error) => Self {
                unfinished: Vec::new(),
                drills: desk.app.drills().len(),
                history: Vec::new(),
                at: 0,
                minutes: MINUTES,
                fitting: Vec::new(),
                answer: Some(Answer::error(&error)),
            },
        }
    }

    /// The first screen of the program: with nothing ever written, the first drill.
    ///
    /// # Errors
    /// The store cannot be read or written.
    pub fn first_screen(desk: &Desk) -> Result<Screen, AppError> {
        let mut home = Self::load(desk)?;
        if let ([], [], Some(drill)) = (
            home.unfinished.as_slice(),
            home.history.as_slice(),
            desk.app.drills().first(),
        ) {
            return Look::open(desk, &Subject::Drill(drill.id.clone()));
        }
        if !desk.app.notices().is_empty() {
            home.answer = Some(Answer::Alert(desk.app.notices().join(" ")));
        }
        Ok(Screen::Home(home))
    }

    fn load(desk: &Desk) -> Result<Self, AppError> {
        let unfinished = desk.app.unfinished()?;
        let history = desk.app.history()?;
        let next = if unfinished.is_empty() {
            next_drill(desk, &history)
        } else {
            0
        };
        Ok(Self {
            drills: desk.app.drills().len(),
            at: next,
            minutes: MINUTES,
            fitting: desk.app.next(MINUTES)?,
            unfinished,
            history,
            answer: None,
        })
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        self.answer = None;
        match command::find(&[Place::Home], key) {
            Some(Do::Back) => return Next::Quit,
            Some(Do::Help) => {
                return Next::Over(Screen::Home(self), HelpScreen::of(&[Place::Home]));
            }
            Some(Do::Open) => return self.show(desk),
            Some(Do::Up) => self.at = self.at.saturating_sub(1),
            Some(Do::Down) => self.at = (self.at + 1).min(self.count().saturating_sub(1)),
            Some(Do::History) => return self.over(HistoryScreen::open(desk)),
            Some(Do::Fitting) => return self.show_fitting(desk),
            Some(Do::More) => self.set_minutes(desk, self.minutes + STEP),
            Some(Do::Less) => self.set_minutes(desk, self.minutes.saturating_sub(STEP)),
            Some(Do::PutAside) => return self.put_aside(desk),
            _ => {}
        }
        Next::Stay(Screen::Home(self))
    }

    fn set_minutes(&mut self, desk: &Desk, minutes: u32) {
        self.minutes = minutes.clamp(STEP, MINUTES_MAX);
        match desk.app.next(self.minutes) {
            Ok(fitting) => self.fitting = fitting,
            Err(error) => self.answer = Some(Answer::error(&error)),
        }
    }

    fn show_fitting(self, desk: &Desk) -> Next {
        match self.fitting.first() {
            Some(offer) => {
                let look = Look::open(desk, &Subject::Drill(offer.drill.clone()));
                self.over(look)
            }
            None => Next::Stay(Screen::Home(self)),
        }
    }

    /// `20 minutes: Position 3 (8 min), Position 7 (12 min)`. Why is told after the commit only.
    fn offer(&self) -> String {
        let offers = self
            .fitting
            .iter()
            .map(|o| format!("Position {} ({} min)", o.number, o.minutes));
        let offers: Vec<String> = offers.collect();
        format!("{} minutes (+ -): {}", self.minutes, offers.join(", "))
    }

    /// A click marks; a click on what is marked opens it.
    pub fn click(mut self, hit: Hit, desk: &Desk) -> Next {
        match hit {
            Hit::Item(item) if item == self.at => return self.show(desk),
            Hit::Item(item) if item < self.count() => self.at = item,
            _ => {}
        }
        Next::Stay(Screen::Home(self))
    }

    fn count(&self) -> usize {
        self.unfinished.len() + self.drills
    }

    fn over(mut self, screen: Result<Screen, AppError>) -> Next {
        match screen {
            Ok(screen) => Next::Over(Screen::Home(self), screen),
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::Home(self))
            }
        }
    }

    fn show(self, desk: &Desk) -> Next {
        let opened = match self.at.checked_sub(self.unfinished.len()) {
            None => match self.unfinished.get(self.at) {
                Some(unfinished) => resume(desk, unfinished),
                None => return Next::Stay(Screen::Home(self)),
            },
            Some(place) => match desk.app.drills().get(place) {
                Some(drill) => Look::open(desk, &Subject::Drill(drill.id.clone())),
                None => return Next::Stay(Screen::Home(self)),
            },
        };
        self.over(opened)
    }

    fn put_aside(self, desk: &Desk) -> Next {
        let Some(unfinished) = self.unfinished.get(self.at) else {
            return Next::Stay(Screen::Home(self));
        };
        match desk.app.put_aside(&unfinished.id) {
            Ok(()) => Next::Home(None),
            Err(error) => self.over(Err(error)),
        }
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        frame::title(page, "Foreply", "write it down before you move");
        if !self.fitting.is_empty() {
            page.put(0, 1, &self.offer(), Ink::PLAIN);
        }
        let right = page.width() / 2 + 2;
        self.draw_list(page, desk, right - 4);
        self.draw_history(page, desk, right);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 2);
        }
        frame::bar(page, Place::Home);
    }

    fn draw_list(&self, page: &mut Page, desk: &Desk, width: usize) {
        let lines = self.lines(desk);
        let rows = page.height().saturating_sub(7);
        let skipped = self
            .at
            .saturating_sub(rows / 2)
            .min(lines.len().saturating_sub(rows));
        page.put(0, 2, "To practise", Ink::QUIET);
        for (i, line) in lines.iter().enumerate().skip(skipped).take(rows) {
            let (y, marked) = (3 + i - skipped, i == self.at);
            page.put(0, y, if marked { ">" } else { " " }, Ink::ACCENT.bold());
            let line = text::fit(line, width - 2);
            page.put(2, y, &line, Ink::PLAIN.turned(marked));
            page.hit(0, y, width, 1, Hit::Item(i));
        }
    }

    fn lines(&self, desk: &Desk) -> Vec<String> {
        let unfinished = self.unfinished.iter().map(|u| {
            let label = words::origin(&desk.app, &u.origin);
            format!(
                "go on: {label}, {} moves, {}",
                u.moves,
                text::clock(u.used_ms)
            )
        });
        let drills = desk.app.drills();
        let own = drills.iter().take_while(|d| d.id.starts_with(OWN)).count();
        let drills = drills.iter().enumerate().map(|(i, drill)| {
            let turn = words::side(drill.root.player());
            let (what, number) = match i.checked_sub(own) {
                Some(place) => ("Position", place + 1),
                None => ("Own game", i + 1),
            };
            format!(
                "{what} {number:<2}  {turn} to move  {:>2} min",
                drill.minutes
            )
        });
        unfinished.chain(drills).collect()
    }

    fn draw_history(&self, page: &mut Page, desk: &Desk, x: usize) {
        page.put(x, 2, "Written last", Ink::QUIET);
        if self.history.is_empty() {
            page.put(x, 3, "nothing yet", Ink::QUIET);
        }
        let rows = page.height().saturating_sub(7);
        for (i, (_, summary)) in self.history.iter().take(rows).enumerate() {
            let line = format!(
                "{}  {}  {}",
                words::date(summary.wall_ms, &desk.zone),
                words::origin(&desk.app, &summary.origin),
                text::clock(summary.used_ms)
            );
            page.put(x, 3 + i, &line, Ink::PLAIN);
        }
    }
}

/// The place of the first drill that was never locked; the first one where all were.
fn next_drill(desk: &Desk, history: &[(SittingId, Summary)]) -> usize {
    let done = |id: &str| {
        history
            .iter()
            .any(|(_, s)| matches!(&s.origin, Origin::Drill(d) if d == id))
    };
    let next = desk.app.drills().iter().position(|d| !done(&d.id));
    next.unwrap_or(0)
}

fn resume(desk: &Desk, unfinished: &Unfinished) -> Result<Screen, AppError> {
    let sitting = desk.app.resume(&unfinished.id)?;
    let label = words::origin(&desk.app, &unfinished.origin);
    let look = BoardLook::of(sitting.tree().root().root());
    Ok(Screen::Entry(Box::new(Entry::new(sitting, label, look))))
}
