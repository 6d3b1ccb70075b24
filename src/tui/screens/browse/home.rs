//! The home screen: what was begun, what to practise now, and what was written last.

use crate::app::{
    AppError, AttemptId, GameId, GameSummary, HistoryEntry, OpenSitting, Recommendation as Offer,
    Subject,
};
use crate::attempt::Origin;
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
use crate::tui::widgets::board::BoardAppearance;
use crate::tui::widgets::canvas::{Canvas, ClickTarget, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::list::ListView;

const CONTEXTS: &[KeyContext] = &[KeyContext::Home];

/// The list of what can be opened.
pub struct HomeScreen {
    items: Vec<HomeItem>,
    list: ListView,
    history: Vec<(AttemptId, HistoryEntry)>,
    /// Drills that were tried.
    tried: usize,
    /// Minutes at hand.
    minutes: u32,
    notice: Option<Notice>,
}

/// One thing to open, in the order of the list.
enum HomeItem {
    /// A sitting that was begun and not locked.
    Begun(OpenSitting),
    /// A game against the engine that was adjourned.
    Game(GameId, GameSummary),
    /// What fits the minutes at hand, in the order in which it is to be practised.
    Now(Offer),
    /// All positions.
    All,
}

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
        let mut home = Self {
            items: begun.chain(games).chain([HomeItem::All]).collect(),
            list: ListView::default(),
            tried: tried(ctx, &history),
            history,
            minutes: MINUTES_AT_HAND,
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
        self.items.retain(|i| !matches!(i, HomeItem::Now(_)));
        let begun = self.items.iter().take_while(|i| i.is_begun()).count();
        let offers = offers.into_iter().map(HomeItem::Now);
        self.items.splice(begun..begun, offers);
        self.list.keep_within(self.items.len());
    }

    /// The eve of a game: what he has solved in the place of what is new, and two habits in words.
    fn eve(&mut self, ctx: &Context) {
        match ctx.app.practice().eve() {
            Ok(eve) => {
                let words = match eve.drills.len() {
                    0 => "No position is solved yet: nothing new on the eve of a game.",
                    _ => "For the eve of a game: solved before, nothing new.",
                };
                let habits = eve.habits.iter().map(String::as_str);
                let words: Vec<&str> = std::iter::once(words).chain(habits).collect();
                self.notice = Some(Notice::Quiet(words.join(" ")));
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
            Action::List(ListAction::Drills) => return Transition::Push(self, Route::Drills),
            Action::List(ListAction::Fitting) => return self.show_fitting(ctx),
            Action::List(ListAction::More) => self.set_minutes(ctx, self.minutes + STEP),
            Action::List(ListAction::Less) => {
                self.set_minutes(ctx, self.minutes.saturating_sub(STEP))
            }
            Action::List(ListAction::PutAside) => return self.put_aside(ctx),
            Action::List(ListAction::Eve) => self.eve(ctx),
            action => self.list.walk(action, self.items.len()),
        }
        Transition::Stay(self)
    }

    fn set_minutes(&mut self, ctx: &Context, minutes: u32) {
        self.minutes = minutes.clamp(STEP, MINUTES_MAX);
        if let Err(error) = self.offer(ctx) {
            self.notice = Some(Notice::error(&error));
        }
    }

    fn show_fitting(mut self: Box<Self>, ctx: &Context) -> Transition {
        match self.items.iter().position(HomeItem::is_now) {
            Some(first) => {
                self.list.go(first);
                self.show(ctx)
            }
            None => Transition::Stay(self),
        }
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
            Some(HomeItem::Game(id, _)) => Ok(Route::ResumedGame(id.clone())),
            Some(HomeItem::Now(offer)) => {
                let subject = Subject::Drill(offer.drill.clone());
                Ok(Route::Preview(Box::new(subject)))
            }
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
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if let ScreenInput::Click(target) = input {
            return self.click(target, ctx);
        }
        self.notice = None;
        match input {
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
        chrome::title(canvas, "Foreply", "write it down before you move");
        let right = canvas.width() / 2 + 4;
        self.draw_items(canvas, ctx, right - 3);
        self.draw_history(canvas, ctx, right);
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        chrome::bar(canvas, KeyContext::Home);
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
                    .map_or_else(String::new, |x| self.line(ctx, x))
            };
            let area = (0, 2, width, rows);
            return self.list.draw(canvas, area, self.items.len(), &line);
        }
        let mut y = 2;
        let mut head = "";
        for (i, item) in self.items.iter().enumerate() {
            if item.head() != head {
                y += usize::from(i > 0);
                head = item.head();
                canvas.put(2, y, head, TextStyle::ACCENT);
                y += 1;
            }
            self.list
                .row(canvas, (0, y, width), i, &self.line(ctx, item));
            y += 1;
            if matches!(item, HomeItem::Now(_))
                && !self.items.get(i + 1).is_some_and(HomeItem::is_now)
            {
                let words = format!("for the {} minutes you have (+ -)", self.minutes);
                canvas.put(2, y, &words, TextStyle::QUIET);
                y += 1;
            }
        }
        let words = "Chosen from what comes back, what you miss and what is new; why is told after \
                     the lock.";
        canvas.put_wrapped((2, y + 1, width - 2, 3), words, TextStyle::QUIET);
    }

    fn line(&self, ctx: &Context, item: &HomeItem) -> String {
        match item {
            HomeItem::Begun(begun) => {
                let label = labels::origin(&ctx.app, &begun.origin);
                let used = text::clock(begun.used_ms);
                format!("go on: {label}, {} moves, {used}", begun.moves)
            }
            HomeItem::Game(_, game) => {
                let label = labels::origin(&ctx.app, &game.origin);
                format!("go on: {label} played out, {} moves", game.moves)
            }
            HomeItem::Now(offer) => match ctx.app.drills().find(&offer.drill) {
                Ok((_, drill)) => labels::drill(&ctx.app, drill),
                Err(error) => error.to_string(),
            },
            HomeItem::All => {
                format!(
                    "{} positions, {} tried",
                    ctx.app.drills().all().len(),
                    self.tried
                )
            }
        }
    }

    fn draw_history(&self, canvas: &mut Canvas, ctx: &Context, x: usize) {
        canvas.put(x, 2, "Written last", TextStyle::ACCENT);
        if self.history.is_empty() {
            canvas.put(x, 3, "nothing yet", TextStyle::QUIET);
        }
        let rows = canvas.height().saturating_sub(6);
        for (i, (_, summary)) in self.history.iter().take(rows).enumerate() {
            let waits = if summary.reviewed.is_some() {
                ""
            } else {
                "  not reviewed"
            };
            let line = format!(
                "{}  {}{waits}",
                labels::date(summary.wall_ms, &ctx.display.zone),
                labels::origin(&ctx.app, &summary.origin),
            );
            canvas.put(x, 3 + i, &line, TextStyle::PLAIN);
        }
    }
}

impl HomeItem {
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
fn tried(ctx: &Context, history: &[(AttemptId, HistoryEntry)]) -> usize {
    let origins = history.iter().filter_map(|(_, s)| match &s.origin {
        Origin::Drill(id) => Some(id.as_str()),
        _ => None,
    });
    let tried: std::collections::HashSet<&str> = origins.collect();
    let drills = ctx.app.drills().all().iter();
    drills.filter(|d| tried.contains(d.id.as_str())).count()
}

fn resume(ctx: &Context, unfinished: &OpenSitting) -> Result<Route, AppError> {
    let sitting = ctx.app.attempts().resume(&unfinished.id)?;
    let label = labels::origin(&ctx.app, &unfinished.origin);
    let look = BoardAppearance::of(sitting.tree().root().root());
    let open = OpenAttempt::new(sitting, label, look);
    Ok(Route::Writing(Box::new(open)))
}
