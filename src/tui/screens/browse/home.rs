//! The home screen: what was begun, what to practise now, and what was written last.

use super::history::HistoryScreen;
use crate::app::{
    AppError, GameId, GameSummary, Next as Offer, SittingId, Subject, Summary, Unfinished,
};
use crate::attempt::Origin;
use crate::text;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::labels;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::browse::drills::Collection;
use crate::tui::screens::game::screen::Playout;
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::writing::preview::Look;
use crate::tui::screens::writing::screen::Entry;
use crate::tui::widgets::board::BoardLook;
use crate::tui::widgets::canvas::{Hit, Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;
use crate::tui::widgets::list::List;

/// The list of what can be opened.
pub struct Home {
    items: Vec<Item>,
    list: List,
    history: Vec<(SittingId, Summary)>,
    /// Drills that were tried.
    tried: usize,
    /// Minutes at hand.
    minutes: u32,
    answer: Option<Answer>,
}

/// One thing to open, in the order of the list.
enum Item {
    /// A sitting that was begun and not locked.
    Begun(Unfinished),
    /// A game against the engine that was adjourned.
    Game(GameId, GameSummary),
    /// What fits the minutes at hand, in the order in which it is to be practised.
    Now(Offer),
    /// All positions.
    All,
}

/// Minutes at hand where nothing else is said, and the steps in which they change.
pub const MINUTES: u32 = 20;
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
                items: vec![Item::All],
                list: List::default(),
                history: Vec::new(),
                tried: 0,
                minutes: MINUTES,
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
        let begun = home.items.iter().any(Item::is_begun);
        if let ([], false, Some(drill)) = (
            home.history.as_slice(),
            begun,
            desk.app.drills().all().first(),
        ) {
            return Look::open(desk, &Subject::Drill(drill.id.clone()));
        }
        if !desk.app.notices().is_empty() {
            home.answer = Some(Answer::Alert(desk.app.notices().join(" ")));
        }
        Ok(Screen::Home(home))
    }

    fn load(desk: &Desk) -> Result<Self, AppError> {
        let history = desk.app.attempts().history()?;
        let begun = desk
            .app
            .attempts()
            .unfinished()?
            .into_iter()
            .map(Item::Begun);
        let games = desk.app.playouts().games_played_out()?.into_iter();
        let games = games.filter(|(_, g)| g.outcome.is_none());
        let games = games.map(|(id, game)| Item::Game(id, game));
        let mut home = Self {
            items: begun.chain(games).chain([Item::All]).collect(),
            list: List::default(),
            tried: tried(desk, &history),
            history,
            minutes: MINUTES,
            answer: None,
        };
        home.offer(desk)?;
        Ok(home)
    }

    /// Puts what fits the minutes at hand in its place.
    fn offer(&mut self, desk: &Desk) -> Result<(), AppError> {
        let offers = desk.app.practice().next(self.minutes)?;
        self.put_offers(offers);
        Ok(())
    }

    fn put_offers(&mut self, offers: Vec<Offer>) {
        self.items.retain(|i| !matches!(i, Item::Now(_)));
        let begun = self.items.iter().take_while(|i| i.is_begun()).count();
        let offers = offers.into_iter().map(Item::Now);
        self.items.splice(begun..begun, offers);
        self.list.keep_within(self.items.len());
    }

    /// The eve of a game: what he has solved in the place of what is new, and two habits in words.
    fn eve(&mut self, desk: &Desk) {
        match desk.app.practice().eve() {
            Ok(eve) => {
                let words = match eve.drills.len() {
                    0 => "No position is solved yet: nothing new on the eve of a game.",
                    _ => "For the eve of a game: solved before, nothing new.",
                };
                let habits = eve.habits.iter().map(String::as_str);
                let words: Vec<&str> = std::iter::once(words).chain(habits).collect();
                self.answer = Some(Answer::Quiet(words.join(" ")));
                self.put_offers(eve.drills);
            }
            Err(error) => self.answer = Some(Answer::error(&error)),
        }
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        self.answer = None;
        match bindings::find(&[Place::Home], key) {
            Some(Do::Back) => return Next::Quit,
            Some(Do::Help) => {
                return Next::Over(Screen::Home(self), HelpScreen::of(&[Place::Home]));
            }
            Some(Do::Open) => return self.show(desk),
            Some(Do::History) => return self.over(HistoryScreen::open(desk)),
            Some(Do::Collection) => return self.over(Collection::open(desk)),
            Some(Do::Fitting) => return self.show_fitting(desk),
            Some(Do::More) => self.set_minutes(desk, self.minutes + STEP),
            Some(Do::Less) => self.set_minutes(desk, self.minutes.saturating_sub(STEP)),
            Some(Do::PutAside) => return self.put_aside(desk),
            Some(Do::Eve) => self.eve(desk),
            Some(run) => self.list.walk(run, self.items.len()),
            None => {}
        }
        Next::Stay(Screen::Home(self))
    }

    fn set_minutes(&mut self, desk: &Desk, minutes: u32) {
        self.minutes = minutes.clamp(STEP, MINUTES_MAX);
        if let Err(error) = self.offer(desk) {
            self.answer = Some(Answer::error(&error));
        }
    }

    fn show_fitting(mut self, desk: &Desk) -> Next {
        let first = self.items.iter().position(|i| matches!(i, Item::Now(_)));
        match first {
            Some(first) => {
                self.list.go(first);
                self.show(desk)
            }
            None => Next::Stay(Screen::Home(self)),
        }
    }

    /// A click marks; a click on what is marked opens it.
    pub fn click(mut self, hit: Hit, desk: &Desk) -> Next {
        match hit {
            Hit::Item(item) if item == self.list.at() => return self.show(desk),
            Hit::Item(item) if item < self.items.len() => self.list.go(item),
            _ => {}
        }
        Next::Stay(Screen::Home(self))
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
        let opened = match self.items.get(self.list.at()) {
            Some(Item::Begun(begun)) => resume(desk, begun),
            Some(Item::Game(id, _)) => Playout::open(desk, id),
            Some(Item::Now(offer)) => Look::open(desk, &Subject::Drill(offer.drill.clone())),
            Some(Item::All) => Collection::open(desk),
            None => return Next::Stay(Screen::Home(self)),
        };
        self.over(opened)
    }

    fn put_aside(self, desk: &Desk) -> Next {
        let Some(Item::Begun(begun)) = self.items.get(self.list.at()) else {
            return Next::Stay(Screen::Home(self));
        };
        match desk.app.attempts().put_aside(&begun.id) {
            Ok(()) => Next::Home(None),
            Err(error) => self.over(Err(error)),
        }
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        chrome::title(page, "Foreply", "write it down before you move");
        let right = page.width() / 2 + 4;
        self.draw_items(page, desk, right - 3);
        self.draw_history(page, desk, right);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 2);
        }
        chrome::bar(page, Place::Home);
    }

    /// The list under its heads; where it is too long for the screen it is shown without them.
    fn draw_items(&self, page: &mut Page, desk: &Desk, width: usize) {
        let rows = page.height().saturating_sub(5);
        if self.items.len() + 8 > rows {
            let line = |i: usize| {
                self.items
                    .get(i)
                    .map_or_else(String::new, |x| self.line(desk, x))
            };
            let area = (0, 2, width, rows);
            return self.list.draw(page, area, self.items.len(), &line);
        }
        let mut y = 2;
        let mut head = "";
        for (i, item) in self.items.iter().enumerate() {
            if item.head() != head {
                y += usize::from(i > 0);
                head = item.head();
                page.put(2, y, head, Ink::ACCENT);
                y += 1;
            }
            self.list
                .row(page, (0, y, width), i, &self.line(desk, item));
            y += 1;
            if matches!(item, Item::Now(_)) && !self.items.get(i + 1).is_some_and(Item::is_now) {
                let words = format!("for the {} minutes you have (+ -)", self.minutes);
                page.put(2, y, &words, Ink::QUIET);
                y += 1;
            }
        }
        let words = "Chosen from what comes back, what you miss and what is new; why is told after \
                     the lock.";
        page.put_wrapped((2, y + 1, width - 2, 3), words, Ink::QUIET);
    }

    fn line(&self, desk: &Desk, item: &Item) -> String {
        match item {
            Item::Begun(begun) => {
                let label = labels::origin(&desk.app, &begun.origin);
                let used = text::clock(begun.used_ms);
                format!("go on: {label}, {} moves, {used}", begun.moves)
            }
            Item::Game(_, game) => {
                let label = labels::origin(&desk.app, &game.origin);
                format!("go on: {label} played out, {} moves", game.moves)
            }
            Item::Now(offer) => match desk.app.drills().find(&offer.drill) {
                Ok((_, drill)) => labels::drill(&desk.app, drill),
                Err(error) => error.to_string(),
            },
            Item::All => {
                format!(
                    "{} positions, {} tried",
                    desk.app.drills().all().len(),
                    self.tried
                )
            }
        }
    }

    fn draw_history(&self, page: &mut Page, desk: &Desk, x: usize) {
        page.put(x, 2, "Written last", Ink::ACCENT);
        if self.history.is_empty() {
            page.put(x, 3, "nothing yet", Ink::QUIET);
        }
        let rows = page.height().saturating_sub(6);
        for (i, (_, summary)) in self.history.iter().take(rows).enumerate() {
            let waits = if summary.reviewed.is_some() {
                ""
            } else {
                "  not reviewed"
            };
            let line = format!(
                "{}  {}{waits}",
                labels::date(summary.wall_ms, &desk.zone),
                labels::origin(&desk.app, &summary.origin),
            );
            page.put(x, 3 + i, &line, Ink::PLAIN);
        }
    }
}

impl Item {
    fn is_begun(&self) -> bool {
        matches!(self, Self::Begun(_) | Self::Game(..))
    }

    fn is_now(&self) -> bool {
        matches!(self, Self::Now(_))
    }

    /// What stands above the first of its kind.
    fn head(&self) -> &'static str {
        match self {
            Self::Begun(_) | Self::Game(..) => "Begun",
            Self::Now(_) => "To practise now",
            Self::All => "The whole collection",
        }
    }
}

/// Number of drills that were locked at least once.
fn tried(desk: &Desk, history: &[(SittingId, Summary)]) -> usize {
    let origins = history.iter().filter_map(|(_, s)| match &s.origin {
        Origin::Drill(id) => Some(id.as_str()),
        _ => None,
    });
    let tried: std::collections::HashSet<&str> = origins.collect();
    let drills = desk.app.drills().all().iter();
    drills.filter(|d| tried.contains(d.id.as_str())).count()
}

fn resume(desk: &Desk, unfinished: &Unfinished) -> Result<Screen, AppError> {
    let sitting = desk.app.attempts().resume(&unfinished.id)?;
    let label = labels::origin(&desk.app, &unfinished.origin);
    let look = BoardLook::of(sitting.tree().root().root());
    Ok(Screen::Entry(Box::new(Entry::new(sitting, label, look))))
}
