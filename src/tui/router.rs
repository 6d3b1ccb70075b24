//! The state of the screens: a stack of them, and what a key, a click or a second does to it.
//!
//! Knows no terminal: keys go in, a [`Page`] comes out.

use jiff::tz::TimeZone;

use crate::app::{App, AppError, Subject};
use crate::attempt::Sight;
use crate::tui::input::key::Key;
use crate::tui::screens::browse::blind_spots::HabitsScreen;
use crate::tui::screens::browse::drills::Collection;
use crate::tui::screens::browse::history::HistoryScreen;
use crate::tui::screens::browse::home::Home;
use crate::tui::screens::game::account::After;
use crate::tui::screens::game::screen::Playout;
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::overlays::pause::Pause;
use crate::tui::screens::overlays::tour;
use crate::tui::screens::review::pending::Waiting;
use crate::tui::screens::review::screen::ReviewScreen;
use crate::tui::screens::writing::commit::Commit;
use crate::tui::screens::writing::locked::Locked;
use crate::tui::screens::writing::preview::Look;
use crate::tui::screens::writing::screen::Entry;
use crate::tui::screens::writing::second_look::Second;
use crate::tui::widgets::board::Glyphs;
use crate::tui::widgets::canvas::{Hit, MIN_HEIGHT, MIN_WIDTH, Page};
use crate::tui::widgets::chrome;
use crate::tui::{Start, Touring};

/// What the screens need to know of the world.
pub struct Desk {
    pub app: App,
    pub glyphs: Glyphs,
    /// For dates.
    pub zone: TimeZone,
    /// For new sittings.
    pub minutes: Option<u32>,
    pub sight: Sight,
    /// Seconds in which the position is only looked at; `None` where writing may begin at once.
    pub look_s: Option<u32>,
    pub tour: Touring,
}

/// The key that ends the tour, on every screen.
pub const TOUR_ENDS: Key = Key::F(12);

/// One screen.
pub enum Screen {
    Home(Home),
    Collection(Collection),
    Look(Box<Look>),
    Entry(Box<Entry>),
    Pause(Box<Pause>),
    Commit(Box<Commit>),
    Locked(Box<Locked>),
    Second(Box<Second>),
    Waiting(Waiting),
    Review(Box<ReviewScreen>),
    History(HistoryScreen),
    Habits(HabitsScreen),
    Help(HelpScreen),
    Playout(Box<Playout>),
    After(Box<After>),
}

/// What follows a key.
pub enum Next {
    /// This screen in place of the one that had the key.
    Stay(Screen),
    /// The second screen on top of the first.
    Over(Screen, Screen),
    /// The screen below.
    Back,
    /// The home screen, with something to say there.
    Home(Option<String>),
    /// The screen below, with the tour beside it.
    Tour,
    Quit,
}

/// All that is on.
pub struct Model {
    desk: Desk,
    stack: Vec<Screen>,
    over: bool,
    /// What depends on time alone, as drawn last.
    moving: String,
    touring: bool,
}

impl Model {
    /// Begins where `start` says. With an empty store the home screen gives way to the first drill.
    ///
    /// # Errors
    /// The drill does not exist, or the store fails.
    pub fn new(desk: Desk, start: &Start) -> Result<Self, AppError> {
        let first = match start {
            Start::Home if desk.tour == Touring::Now => Look::next(&desk)?,
            Start::Home => Home::first_screen(&desk)?,
            Start::Drill(id) => Look::open(&desk, &Subject::Drill(id.clone()))?,
            Start::Playout(id) => Playout::open(&desk, id)?,
            Start::Position(line) => Look::open(&desk, &Subject::Position((**line).clone()))?,
        };
        let touring = match desk.tour {
            Touring::Never => false,
            Touring::Once => {
                matches!(first, Screen::Look(_)) && !desk.app.maintenance().has_toured()
            }
            Touring::Now => true,
        };
        Ok(Self {
            desk,
            stack: vec![first],
            over: false,
            moving: String::new(),
            touring,
        })
    }

    /// Begins on a given screen.
    #[cfg(test)]
    pub(crate) fn on(desk: Desk, screen: Screen) -> Self {
        Self {
            desk,
            stack: vec![screen],
            over: false,
            moving: String::new(),
            touring: false,
        }
    }

    /// True once the player has left the program.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.over
    }

    pub fn press(&mut self, key: Key) {
        if self.touring && key == TOUR_ENDS {
            return self.end_tour();
        }
        if let Some(top) = self.stack.pop() {
            let next = top.press(key, &self.desk);
            self.follow(next);
        }
    }

    pub fn click(&mut self, hit: Hit) {
        if let Some(top) = self.stack.pop() {
            let next = top.click(hit, &self.desk);
            self.follow(next);
        }
    }

    /// Lets time pass; true where the screen has to be drawn again.
    pub fn tick(&mut self) -> bool {
        let mut waited = false;
        if let Some(Screen::Waiting(waiting)) =
            self.stack.pop_if(|s| matches!(s, Screen::Waiting(_)))
        {
            let next = waiting.tick(&self.desk);
            self.follow(next);
            waited = true;
        }
        match self.stack.last_mut() {
            Some(Screen::Review(review)) => waited |= review.tick(&self.desk),
            Some(Screen::Playout(playout)) => playout.tick(),
            Some(Screen::After(after)) => after.tick(),
            _ => {}
        }
        let moving = self
            .stack
            .last()
            .map_or_else(String::new, |s| s.moving(&self.desk));
        let over = waited && !matches!(self.stack.last(), Some(Screen::Waiting(_)));
        let changed = over || moving != self.moving;
        self.moving = moving;
        changed
    }

    /// The program ends: an open sitting is left, so that its time counts until here.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn close(&mut self) -> Result<(), AppError> {
        for screen in self.stack.drain(..) {
            match screen {
                Screen::Entry(mut entry) => entry.sitting.leave()?,
                Screen::Playout(mut playout) => playout.close()?,
                Screen::Commit(mut commit) => commit.entry.sitting.leave()?,
                _ => {}
            }
        }
        Ok(())
    }

    fn follow(&mut self, next: Next) {
        match next {
            Next::Stay(screen) => self.stack.push(screen),
            Next::Over(below, top) => self.stack.extend([below, top]),
            Next::Back if self.stack.is_empty() => self.go_home(None),
            Next::Back => self.refresh(),
            Next::Home(words) => self.go_home(words),
            Next::Tour => self.begin_tour(),
            Next::Quit => self.over = true,
        }
    }

    /// A list that is seen again shows what has changed.
    fn refresh(&mut self) {
        match self.stack.last_mut() {
            Some(Screen::Home(_)) => self.go_home(None),
            Some(Screen::Collection(collection)) => collection.refresh(&self.desk),
            Some(Screen::History(history)) => history.refresh(&self.desk),
            _ => {}
        }
    }

    /// The tour goes beside the sitting that is on; elsewhere it begins one.
    fn begin_tour(&mut self) {
        self.touring = true;
        if !self.stack.iter().any(Screen::is_sitting) {
            match Look::next(&self.desk) {
                Ok(look) => self.stack.push(look),
                Err(error) => self.go_home(Some(error.to_string())),
            }
        }
    }

    /// It is not shown again by itself.
    fn end_tour(&mut self) {
        self.touring = false;
        // Where that cannot be kept it comes once more.
        let _ = self.desk.app.maintenance().keep_toured();
    }

    fn go_home(&mut self, words: Option<String>) {
        if self.touring {
            self.end_tour();
        }
        self.stack.clear();
        self.stack.push(Screen::Home(Home::open(&self.desk, words)));
    }

    /// Draws what is on top.
    #[must_use]
    pub fn draw(&self, width: usize, height: usize) -> Page {
        let mut page = Page::new(width, height).ascii(self.desk.glyphs.ascii);
        if width < MIN_WIDTH || height < MIN_HEIGHT {
            chrome::too_small(&mut page);
        } else if let Some(top) = self.stack.last() {
            top.draw(&mut page, &self.desk);
            if self.touring {
                tour::draw(top, &mut page);
            }
        }
        page
    }
}

impl Screen {
    /// True for the screens of one sitting.
    fn is_sitting(&self) -> bool {
        matches!(
            self,
            Self::Look(_) | Self::Entry(_) | Self::Commit(_) | Self::Locked(_) | Self::Review(_)
        )
    }

    fn press(self, key: Key, desk: &Desk) -> Next {
        match self {
            Self::Home(s) => s.press(key, desk),
            Self::Collection(s) => s.press(key, desk),
            Self::Look(s) => s.press(key),
            Self::Entry(s) => s.press(key),
            Self::Pause(s) => s.press(key),
            Self::Commit(s) => s.press(key),
            Self::Locked(s) => s.press(key, desk),
            Self::Second(s) => s.press(key),
            Self::Waiting(s) => s.press(key, desk),
            Self::Review(s) => s.press(key, desk),
            Self::History(s) => s.press(key, desk),
            Self::Habits(s) => s.press(key, desk),
            Self::Help(s) => s.press(key),
            Self::Playout(s) => s.press(key),
            Self::After(s) => s.press(key, desk),
        }
    }

    fn click(self, hit: Hit, desk: &Desk) -> Next {
        match self {
            Self::Home(s) => s.click(hit, desk),
            Self::Collection(s) => s.click(hit, desk),
            Self::Entry(s) => s.click(hit),
            Self::History(s) => s.click(hit, desk),
            Self::Habits(s) => s.click(hit, desk),
            other => Next::Stay(other),
        }
    }

    /// What of the screen depends on time alone.
    fn moving(&self, desk: &Desk) -> String {
        match self {
            Self::Look(s) => s.moving(),
            Self::Entry(s) => s.moving(),
            Self::Commit(s) => s.entry.moving(),
            Self::Second(s) => s.moving(),
            Self::Waiting(s) => s.moving(desk),
            Self::Playout(s) => s.moving(),
            Self::After(s) => s.moving(),
            _ => String::new(),
        }
    }

    fn draw(&self, page: &mut Page, desk: &Desk) {
        match self {
            Self::Home(s) => s.draw(page, desk),
            Self::Collection(s) => s.draw(page, desk),
            Self::Look(s) => s.draw(page, desk),
            Self::Entry(s) => s.draw(page, desk),
            Self::Pause(s) => s.draw(page),
            Self::Commit(s) => s.draw(page, desk),
            Self::Locked(s) => s.draw(page, desk),
            Self::Second(s) => s.draw(page, desk),
            Self::Waiting(s) => s.draw(page, desk),
            Self::Review(s) => s.draw(page, desk),
            Self::History(s) => s.draw(page, desk),
            Self::Habits(s) => s.draw(page, desk),
            Self::Help(s) => s.draw(page),
            Self::Playout(s) => s.draw(page, desk),
            Self::After(s) => s.draw(page, desk),
        }
    }
}
