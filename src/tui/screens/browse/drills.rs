//! All positions, with filters: numbers and whose move it is, never a name, a source or a result.

use crate::app::{AppError, Subject};
use crate::tui::input::action::{Action, CommonAction, GameAction, ListAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::labels;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::screens::browse::drill_filter::{DrillFilter, DrillTraits};
use crate::tui::widgets::canvas::{Canvas, ClickTarget, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::list::ListView;

const CONTEXTS: &[KeyContext] = &[KeyContext::Drills];

/// The list of positions that pass the filters.
pub struct DrillsScreen {
    traits: Vec<DrillTraits>,
    filter: DrillFilter,
    /// Places in the collection of those that pass.
    shown: Vec<usize>,
    list: ListView,
    notice: Option<Notice>,
}

impl DrillsScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(ctx: &Context) -> Result<Self, AppError> {
        let mut screen = Self {
            traits: Vec::new(),
            filter: DrillFilter::default(),
            shown: Vec::new(),
            list: ListView::default(),
            notice: None,
        };
        screen.read(ctx)?;
        Ok(screen)
    }

    fn read(&mut self, ctx: &Context) -> Result<(), AppError> {
        let history = ctx.app.attempts().history()?;
        self.traits = DrillTraits::all(ctx.app.drills().all(), history.iter().map(|(_, s)| s));
        self.sift();
        Ok(())
    }

    /// Lists again what passes.
    fn sift(&mut self) {
        let traits = self.traits.iter().enumerate();
        let passing = traits.filter(|(_, card)| self.filter.passes(card));
        self.shown = passing.map(|(place, _)| place).collect();
        self.list.keep_within(self.shown.len());
    }

    fn act(mut self: Box<Self>, action: Action, ctx: &Context) -> Transition {
        match action {
            Action::Common(CommonAction::Back) => return Transition::Pop,
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Open) => return self.push(ctx, Route::Preview),
            Action::Game(GameAction::PlayOut) => return self.push(ctx, Route::NewGame),
            Action::List(ListAction::Fitting) => self.go_to_new(),
            Action::List(ListAction::ClearFilters) => {
                self.filter = DrillFilter::default();
                self.sift();
            }
            action => self.list.walk(action, self.shown.len()),
        }
        Transition::Stay(self)
    }

    fn turn_filter(&mut self, filter: usize) {
        self.filter.turn(filter);
        self.sift();
    }

    /// To the next one that was not tried, round the end.
    fn go_to_new(&mut self) {
        let is_new = |i: &usize| {
            let drill_traits = self.shown.get(*i).and_then(|p| self.traits.get(*p));
            drill_traits.is_some_and(DrillFilter::is_new)
        };
        let (count, at) = (self.shown.len(), self.list.at());
        match (at + 1..count).chain(0..count.min(at + 1)).find(is_new) {
            Some(found) => self.list.go(found),
            None => {
                let words = tr!("You have tried all of these.");
                self.notice = Some(Notice::Quiet(words.to_owned()));
            }
        }
    }

    /// A click marks, and a click on what is marked opens it; on a filter it turns the filter.
    fn click(mut self: Box<Self>, target: ClickTarget, ctx: &Context) -> Transition {
        match target {
            ClickTarget::Item(item) if item == self.list.at() => {
                return self.push(ctx, Route::Preview);
            }
            ClickTarget::Item(item) if item < self.shown.len() => self.list.go(item),
            ClickTarget::Filter(filter) => self.turn_filter(filter),
            _ => {}
        }
        Transition::Stay(self)
    }

    /// The marked position.
    fn subject(&self, ctx: &Context) -> Option<Subject> {
        let place = self.shown.get(self.list.at())?;
        let drill = ctx.app.drills().all().get(*place)?;
        Some(Subject::Drill(drill.id.clone()))
    }

    /// On with the marked position.
    fn push(self: Box<Self>, ctx: &Context, route: fn(Box<Subject>) -> Route) -> Transition {
        match self.subject(ctx) {
            Some(subject) => Transition::Push(self, route(Box::new(subject))),
            None => Transition::Stay(self),
        }
    }
}

impl Screen for DrillsScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if let ScreenInput::Click(target) = input {
            return self.click(target, ctx);
        }
        self.notice = None;
        match input {
            ScreenInput::Action(action) => return self.act(action, ctx),
            ScreenInput::Pick(filter) => self.turn_filter(filter),
            _ => {}
        }
        Transition::Stay(self)
    }

    /// What was tried meanwhile counts as tried.
    fn uncovered(&mut self, ctx: &Context) -> Option<Route> {
        self.notice = self.read(ctx).err().map(|e| Notice::error(&e));
        None
    }

    fn notify(&mut self, notice: Notice) {
        self.notice = Some(notice);
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let count = match (self.shown.len(), self.traits.len()) {
            (shown, all) if shown == all => tr!("{all} in all"),
            (shown, all) => tr!("{shown} of {all}"),
        };
        chrome::title(canvas, tr!("Positions"), &count);
        self.draw_filters(canvas);
        if self.shown.is_empty() {
            let words = tr!("No position is like this. 0 shows all again.");
            canvas.put(2, 4, words, TextStyle::QUIET);
        }
        let line = |i: usize| self.line(ctx, i);
        let rows = canvas.height().saturating_sub(7);
        let area = (0, 4, canvas.width(), rows);
        self.list.draw(canvas, area, self.shown.len(), &line);
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        chrome::bar(canvas, KeyContext::Drills);
    }
}

impl DrillsScreen {
    fn draw_filters(&self, canvas: &mut Canvas) {
        let mut x = 2;
        for (i, (words, is_set)) in self.filter.words().enumerate() {
            let from = x;
            x = canvas.put(x, 2, &(i + 1).to_string(), TextStyle::ACCENT.bold()) + 1;
            let style = if is_set {
                TextStyle::PLAIN.bold().underlined()
            } else {
                TextStyle::QUIET
            };
            x = canvas.put(x, 2, words, style);
            canvas.clickable(from, 2, x - from, 1, ClickTarget::Filter(i));
            x += 2;
        }
    }

    fn line(&self, ctx: &Context, i: usize) -> String {
        let place = self.shown.get(i).copied().unwrap_or_default();
        let Some((drill, drill_traits)) = ctx
            .app
            .drills()
            .all()
            .get(place)
            .zip(self.traits.get(place))
        else {
            return String::new();
        };
        let tried = drill_traits.tried_ms.map_or_else(
            || tr!("not tried").to_owned(),
            |ms| tr!("tried {}", labels::date(ms, &ctx.display.zone)),
        );
        format!("{}  {tried}", labels::drill(&ctx.app, drill))
    }
}
