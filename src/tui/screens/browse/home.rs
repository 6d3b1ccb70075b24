//! The home screen: what was begun, what to practise now, and what was written last.

use crate::app::{
    AppError, AttemptId, HistoryEntry, OpenSitting, QuickOffer, Recommendation as Offer, Subject,
};
use crate::board::{Line, line};
use crate::text;
use crate::tui::MINUTES_AT_HAND;
use crate::tui::input::action::{Action, CommonAction, ListAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::labels;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::sessions::OpenAttempt;
use crate::tui::screens::browse::home_items::{HomeItem, tried};
use crate::tui::screens::browse::weeks;
use crate::tui::widgets::board::BoardAppearance;
use crate::tui::widgets::canvas::{Canvas, ClickTarget, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::list::ListView;
use crate::tui::widgets::page::{PageScroll, TextPage};

const CONTEXTS: &[KeyContext] = &[KeyContext::Home];
const FEN_CONTEXTS: &[KeyContext] = &[KeyContext::Fen, KeyContext::Line];

/// The list of what can be opened.
pub struct HomeScreen {
    items: Vec<HomeItem>,
    list: ListView,
    history: Vec<(AttemptId, HistoryEntry)>,
    /// Drills that were tried.
    tried: usize,
    /// Minutes at hand.
    minutes: u32,
    /// What he took away from his last event, in his own words.
    takeaways: Vec<String>,
    /// What is due to come back, whether or not the minutes suffice.
    debt: Option<String>,
    /// The next position at speed; not on the eve of a game, which has nothing new.
    quick: Option<QuickOffer>,
    /// Of an experiment that goes on: its week, and what is practised.
    experiment: Option<String>,
    /// On the eve of a game: what is said in the place of what is new.
    eve: Option<Vec<String>>,
    /// A position that is typed.
    asking: Option<LineEditor>,
    notice: Option<Notice>,
}

/// From so many columns and rows on the home screen tells more.
const LARGE: (usize, usize) = (120, 36);
/// Rows for the course of the weeks.
const WEEK_ROWS: usize = 11;

/// Why nothing is practised at speed on the eve of a game.
const EVE_IS_OLD: &str =
    tr_later!("Nothing new on the eve of a game, and nothing at speed; + brings it back.");

/// The steps in which the minutes at hand change.
const STEP: u32 = 5;
const MINUTES_MAX: u32 = 120;

impl HomeScreen {
    /// The home screen; what the store cannot give is told there.
    #[must_use]
    pub fn open(ctx: &Context, notice: Option<Notice>) -> Self {
        match Self::load(ctx) {
            Ok(mut home) => {
                home.notice = notice;
                home
            }
            Err(error) => Self {
                items: vec![HomeItem::All],
                list: ListView::default(),
                history: Vec::new(),
                tried: 0,
                minutes: MINUTES_AT_HAND,
                takeaways: Vec::new(),
                debt: None,
                quick: None,
                experiment: None,
                eve: None,
                asking: None,
                notice: Some(Notice::error(&error)),
            },
        }
    }

    /// The home screen as the first one of the program.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn first(ctx: &Context) -> Result<Self, AppError> {
        let mut home = Self::load(ctx)?;
        if !ctx.app.notices().is_empty() {
            home.notice = Some(Notice::Alert(ctx.app.notices().join(" ")));
        }
        Ok(home)
    }

    /// With nothing ever written, the first drill is to come in its place.
    #[must_use]
    pub fn first_drill(&self, ctx: &Context) -> Option<Subject> {
        let begun = self.items.iter().any(HomeItem::is_begun);
        let drill = ctx.app.drills().all().first()?;
        (self.history.is_empty() && !begun).then(|| Subject::Drill(drill.id.clone()))
    }

    fn load(ctx: &Context) -> Result<Self, AppError> {
        let history = ctx.app.attempts().history()?;
        let begun = ctx
            .app
            .attempts()
            .unfinished()?
            .into_iter()
            .map(HomeItem::Begun);
        let games = ctx.app.playouts().games_played_out()?.into_iter();
        let games = games.filter(|(_, g)| g.outcome.is_none());
        let games = games.map(|(id, game)| HomeItem::Game(id, game));
        let homework = ctx.app.homework().open()?.into_iter();
        let homework = homework.map(|task| HomeItem::Homework(Box::new(task)));
        // Where no position is left at speed nothing is offered.
        let quick = match ctx.app.quick().next(None) {
            Ok(offer) => Some(offer),
            Err(AppError::NoQuickLeft(_)) => None,
            Err(error) => return Err(error),
        };
        let sheet = ctx.app.games().begun_sheet()?;
        let sheet = sheet.map(|(draft, _)| HomeItem::Sheet(draft.entries.len()));
        let items = begun.chain(games).chain(sheet).chain(homework);
        let items = items.chain([HomeItem::All]);
        let mut home = Self {
            items: items.collect(),
            list: ListView::default(),
            tried: tried(ctx, &history),
            history,
            minutes: MINUTES_AT_HAND,
            takeaways: ctx.app.games().reminder()?.words,
            quick,
            experiment: ctx.app.experiments().sentence()?,
            debt: ctx.app.practice().debt(&ctx.display.zone)?,
            eve: None,
            asking: None,
            notice: None,
        };
        home.offer(ctx)?;
        Ok(home)
    }

    /// Puts what fits the minutes at hand in its place.
    fn offer(&mut self, ctx: &Context) -> Result<(), AppError> {
        let offers = ctx.app.practice().next(self.minutes)?;
        self.put_offers(offers);
        Ok(())
    }

    fn put_offers(&mut self, offers: Vec<Offer>) {
        self.items
            .retain(|i| !matches!(i, HomeItem::Now(_) | HomeItem::Quick(_)));
        let before = |i: &&HomeItem| i.is_begun() || matches!(i, HomeItem::Homework(_));
        let begun = self.items.iter().take_while(before).count();
        let offers = offers.into_iter().map(HomeItem::Now);
        let quick = self.quick.clone().filter(|_| self.eve.is_none());
        let offers = offers.chain(quick.map(HomeItem::Quick));
        self.items.splice(begun..begun, offers);
        self.list.keep_within(self.items.len());
    }

    /// The eve of a game: what he has solved in the place of what is new, and two habits in words.
    fn eve(&mut self, ctx: &Context) {
        match ctx.app.practice().eve() {
            Ok(eve) => {
                let words = match eve.drills.len() {
                    0 => tr!("No position is solved yet: nothing new on the eve of a game."),
                    _ => tr!("For the eve of a game: solved before, nothing new."),
                };
                let words = std::iter::once(words.to_owned());
                let takeaways = eve.takeaways.iter().map(|t| tr!("You took away: {t}"));
                let takeaways: Vec<String> = takeaways.collect();
                self.eve = Some(words.chain(eve.habits).chain(takeaways).collect());
                self.put_offers(eve.drills);
            }
            Err(error) => self.notice = Some(Notice::error(&error)),
        }
    }

    fn act(mut self: Box<Self>, action: Action, ctx: &Context) -> Transition {
        match action {
            Action::Common(CommonAction::Back) => return Transition::Quit,
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Open) => return self.show(ctx),
            Action::List(ListAction::History) => return Transition::Push(self, Route::History),
            Action::List(ListAction::Figures) => return Transition::Push(self, Route::Figures),
            Action::List(ListAction::Speed) => return Transition::Push(self, Route::Quick),
            Action::List(ListAction::OwnGames) => return Transition::Push(self, Route::OwnGames),
            Action::List(ListAction::Drills) => return Transition::Push(self, Route::Drills),
            Action::List(ListAction::Fitting) => {
                return self.show_first(ctx, HomeItem::is_now);
            }
            Action::List(ListAction::Quick) => {
                return self.show_quick(ctx);
            }
            Action::List(ListAction::More) => self.set_minutes(ctx, self.minutes + STEP),
            Action::List(ListAction::Less) => {
                self.set_minutes(ctx, self.minutes.saturating_sub(STEP))
            }
            Action::List(ListAction::PutAside) => return self.put_aside(ctx),
            Action::List(ListAction::Eve) => self.eve(ctx),
            Action::List(ListAction::Position) => self.asking = Some(LineEditor::default()),
            action => self.list.walk(action, self.items.len()),
        }
        Transition::Stay(self)
    }

    /// A position of his own, as it is typed.
    fn type_position(mut self: Box<Self>, input: ScreenInput) -> Transition {
        let Some(typed) = &mut self.asking else {
            return Transition::Stay(self);
        };
        match input {
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(FEN_CONTEXTS));
            }
            ScreenInput::Action(Action::Common(CommonAction::Back)) => self.asking = None,
            ScreenInput::Action(Action::Common(CommonAction::Open)) => {
                match line::read_fen(typed.text().trim()) {
                    Ok(position) => {
                        self.asking = None;
                        let subject = Subject::Position(Line::new(position));
                        return Transition::Push(self, Route::Preview(Box::new(subject)));
                    }
                    Err(why) => self.notice = Some(Notice::error(&why)),
                }
            }
            ScreenInput::Action(Action::Edit(edit)) => typed.edit(edit),
            ScreenInput::Char(c) => typed.insert(c),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn set_minutes(&mut self, ctx: &Context, minutes: u32) {
        // Asked for again, what is new comes back.
        if self.eve.take().is_none() {
            self.minutes = minutes.clamp(STEP, MINUTES_MAX);
        }
        if let Err(error) = self.offer(ctx) {
            self.notice = Some(Notice::error(&error));
        }
    }

    fn show_first(
        mut self: Box<Self>,
        ctx: &Context,
        wanted: impl Fn(&HomeItem) -> bool,
    ) -> Transition {
        match self.items.iter().position(wanted) {
            Some(first) => {
                self.list.go(first);
                self.show(ctx)
            }
            None => Transition::Stay(self),
        }
    }

    /// The next position at speed; where there is none it is said why.
    fn show_quick(mut self: Box<Self>, ctx: &Context) -> Transition {
        self.notice = match (&self.eve, &self.quick) {
            (Some(_), _) => Some(Notice::Quiet(
                crate::translation::text(EVE_IS_OLD).to_owned(),
            )),
            (None, None) => Some(Notice::error(&AppError::NoQuickLeft(None))),
            (None, Some(_)) => None,
        };
        self.show_first(ctx, |item| matches!(item, HomeItem::Quick(_)))
    }

    /// A click marks; a click on what is marked opens it.
    fn click(mut self: Box<Self>, target: ClickTarget, ctx: &Context) -> Transition {
        match target {
            ClickTarget::Item(item) if item == self.list.at() => return self.show(ctx),
            ClickTarget::Item(item) if item < self.items.len() => self.list.go(item),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn tell(mut self: Box<Self>, error: &AppError) -> Transition {
        self.notice = Some(Notice::error(error));
        Transition::Stay(self)
    }

    fn show(self: Box<Self>, ctx: &Context) -> Transition {
        let route = match self.items.get(self.list.at()) {
            Some(HomeItem::Begun(begun)) => resume(ctx, begun),
            Some(HomeItem::Sheet(_)) => Ok(Route::Sheet),
            Some(HomeItem::Game(id, _)) => Ok(Route::ResumedGame(id.clone())),
            Some(HomeItem::Now(offer)) => {
                let subject = Subject::Drill(offer.drill.clone());
                Ok(Route::Preview(Box::new(subject)))
            }
            Some(HomeItem::Homework(task)) => {
                let subject = task.subject();
                subject.map(|subject| Route::Preview(Box::new(subject)))
            }
            Some(HomeItem::Quick(offer)) => Ok(Route::Preview(Box::new(offer.subject.clone()))),
            Some(HomeItem::All) => Ok(Route::Drills),
            None => return Transition::Stay(self),
        };
        match route {
            Ok(route) => Transition::Push(self, route),
            Err(error) => self.tell(&error),
        }
    }

    fn put_aside(self: Box<Self>, ctx: &Context) -> Transition {
        let Some(HomeItem::Begun(begun)) = self.items.get(self.list.at()) else {
            return Transition::Stay(self);
        };
        match ctx.app.attempts().put_aside(&begun.id) {
            Ok(()) => Transition::Home(None),
            Err(error) => self.tell(&error),
        }
    }
}

impl Screen for HomeScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        match self.asking {
            Some(_) => FEN_CONTEXTS,
            None => CONTEXTS,
        }
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if let ScreenInput::Click(target) = input {
            return self.click(target, ctx);
        }
        self.notice = None;
        match input {
            input if self.asking.is_some() => self.type_position(input),
            ScreenInput::Action(action) => self.act(action, ctx),
            _ => Transition::Stay(self),
        }
    }

    fn uncovered(&mut self, _ctx: &Context) -> Option<Route> {
        Some(Route::Home(None))
    }

    fn notify(&mut self, notice: Notice) {
        self.notice = Some(notice);
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        chrome::title(canvas, tr!("Foreply"), tr!("write it down before you move"));
        let right = canvas.width() / 2 + 4;
        self.draw_items(canvas, ctx, right - 3);
        self.draw_history(canvas, ctx, right);
        let bottom = canvas.height() - 2;
        let Some(typed) = &self.asking else {
            if let Some(notice) = &self.notice {
                notice.draw(canvas, bottom);
            }
            return chrome::bar(canvas, KeyContext::Home);
        };
        if let Some(notice) = &self.notice {
            notice.draw(canvas, bottom - 1);
        }
        chrome::entry_line(canvas, bottom, tr!("position as FEN >"), typed);
        chrome::bar(canvas, KeyContext::Fen);
    }
}

impl HomeScreen {
    /// The list under its heads; where it is too long for the screen it is shown without them.
    fn draw_items(&self, canvas: &mut Canvas, ctx: &Context, width: usize) {
        let rows = canvas.height().saturating_sub(5);
        if self.items.len() + 8 > rows {
            let line = |i: usize| {
                self.items
                    .get(i)
                    .map_or_else(String::new, |x| x.line(ctx, self.tried))
            };
            let area = (0, 2, width, rows);
            return self.list.draw(canvas, area, self.items.len(), &line);
        }
        let mut y = 2;
        let mut head = "";
        for (i, item) in self.items.iter().enumerate() {
            if item.head(self.eve.is_some()) != head {
                y += usize::from(i > 0);
                head = item.head(self.eve.is_some());
                canvas.put(2, y, head, TextStyle::ACCENT);
                y += 1;
            }
            self.list
                .row(canvas, (0, y, width), i, &item.line(ctx, self.tried));
            y += 1;
            let last = item.is_now() && !self.items.get(i + 1).is_some_and(HomeItem::is_now);
            if last && self.eve.is_none() {
                let words = tr!("for the {} minutes you have (+ -)", self.minutes);
                canvas.put(2, y, &words, TextStyle::QUIET);
                y += 1;
            }
        }
        let mut page = TextPage::new(width - 2);
        // A row that is cut is told whole where it is marked.
        if let Some(marked) = self.items.get(self.list.at()) {
            let line = marked.line(ctx, self.tried);
            if text::width(&line) + 2 > width {
                page.say(&line, TextStyle::PLAIN);
                page.gap();
            }
        }
        match &self.eve {
            Some(words) => {
                for words in words {
                    page.say(words, TextStyle::PLAIN);
                }
                page.say(tr!("+ brings what is new back."), TextStyle::QUIET);
            }
            None if self.items.iter().any(HomeItem::is_now) => {
                let words = tr!(
                    "Chosen from what comes back, what you miss and what is new; why is told after \
                     the lock."
                );
                page.say(words, TextStyle::QUIET);
                for words in self.debt.iter().chain(&self.experiment) {
                    page.say(words, TextStyle::PLAIN);
                }
            }
            None => {}
        }
        if self.eve.is_none() && !self.takeaways.is_empty() {
            page.gap();
            page.say(tr!("You took away from your last event:"), TextStyle::QUIET);
            for words in &self.takeaways {
                page.say(words, TextStyle::PLAIN);
            }
        }
        let room = canvas.height().saturating_sub(y + 3);
        page.draw(canvas, (2, y + 1, room), &PageScroll::default());
    }

    fn draw_history(&self, canvas: &mut Canvas, ctx: &Context, x: usize) {
        canvas.put(x, 2, tr!("Written last"), TextStyle::ACCENT);
        if self.history.is_empty() {
            canvas.put(x, 3, tr!("nothing yet"), TextStyle::QUIET);
        }
        // In a large terminal a third of it goes to the course of the weeks.
        let large = canvas.width() >= LARGE.0 && canvas.height() >= LARGE.1;
        let rows = canvas.height().saturating_sub(6);
        let rows = if large { rows - WEEK_ROWS } else { rows };
        if large {
            let entries = self.history.iter().map(|(_, entry)| entry);
            weeks::draw(canvas, ctx, entries, (x, rows + 4));
        }
        for (i, (_, summary)) in self.history.iter().take(rows).enumerate() {
            let waits = if summary.reviewed.is_some() {
                ""
            } else {
                tr!("  not reviewed")
            };
            let found = if large {
                weeks::findings(summary)
            } else {
                String::new()
            };
            let line = format!(
                "{}  {}{waits}{found}",
                labels::date(summary.wall_ms, &ctx.display.zone),
                labels::origin(&ctx.app, &summary.origin),
            );
            canvas.put(x, 3 + i, &line, TextStyle::PLAIN);
        }
    }
}

fn resume(ctx: &Context, unfinished: &OpenSitting) -> Result<Route, AppError> {
    let sitting = ctx.app.attempts().resume(&unfinished.id)?;
    let label = labels::origin(&ctx.app, &unfinished.origin);
    let look = BoardAppearance::of(sitting.tree().root().root());
    let open = OpenAttempt::new(sitting, label, look, ctx.display.letters);
    Ok(Route::Writing(Box::new(open)))
}
