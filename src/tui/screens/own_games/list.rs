//! All own games, the newest first.

use crate::app::{AppError, ListedGame};
use crate::games::result;
use crate::text;
use crate::tui::input::action::{Action, CommonAction, OwnGameAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::{OwnPage, Route};
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::canvas::{Canvas, ClickTarget, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::list::ListView;

const CONTEXTS: &[KeyContext] = &[KeyContext::OwnGames];

/// The list.
pub struct OwnGamesScreen {
    games: Vec<ListedGame>,
    list: ListView,
    notice: Option<Notice>,
}

impl OwnGamesScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(ctx: &Context) -> Result<Self, AppError> {
        Ok(Self {
            games: load(ctx)?,
            list: ListView::default(),
            notice: None,
        })
    }

    fn act(mut self: Box<Self>, action: Action) -> Transition {
        let route = match action {
            Action::Common(CommonAction::Back) => return Transition::Pop,
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Open) => self.marked().map(first),
            Action::OwnGame(OwnGameAction::Opponent) => self.marked().map(opponent),
            Action::OwnGame(OwnGameAction::Event) => self.marked().map(event),
            Action::OwnGame(OwnGameAction::Account) => self.marked().map(account),
            Action::OwnGame(OwnGameAction::Thoughts) => self.marked().map(thoughts),
            action => {
                self.list.walk(action, self.games.len());
                None
            }
        };
        match route {
            Some(route) => Transition::Push(self, route),
            None => Transition::Stay(self),
        }
    }

    fn marked(&self) -> Option<&ListedGame> {
        self.games.get(self.list.at())
    }

    /// A click marks; a click on what is marked opens it.
    fn click(mut self: Box<Self>, target: ClickTarget) -> Transition {
        match target {
            ClickTarget::Item(item) if item == self.list.at() => {
                return self.act(Action::Common(CommonAction::Open));
            }
            ClickTarget::Item(item) if item < self.games.len() => self.list.go(item),
            _ => {}
        }
        Transition::Stay(self)
    }
}

fn load(ctx: &Context) -> Result<Vec<ListedGame>, AppError> {
    let mut games = ctx.app.games().listed_games()?;
    games.reverse();
    Ok(games)
}

/// His own thoughts, as long as no engine has spoken and they are not locked; then the account.
fn first(of: &ListedGame) -> Route {
    match (of.thoughts, of.judged) {
        (Some(true), _) | (None, true) => account(of),
        _ => thoughts(of),
    }
}

fn event(of: &ListedGame) -> Route {
    Route::OwnGamePage(OwnPage::Event(of.game.id.clone()))
}

fn opponent(of: &ListedGame) -> Route {
    Route::OwnGamePage(OwnPage::Opponent(of.game.opponent().to_owned()))
}

fn account(of: &ListedGame) -> Route {
    Route::OwnGamePage(OwnPage::Account(of.game.id.clone()))
}

/// His thoughts on a game: to be written, or, once locked, to be read beside it.
fn thoughts(of: &ListedGame) -> Route {
    let id = of.game.id.clone();
    match of.thoughts {
        Some(true) => Route::OwnGamePage(OwnPage::Thoughts(id)),
        _ => Route::Recall(id),
    }
}

impl Screen for OwnGamesScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, _ctx: &Context) -> Transition {
        match input {
            ScreenInput::Action(action) => {
                self.notice = None;
                self.act(action)
            }
            ScreenInput::Click(target) => self.click(target),
            _ => Transition::Stay(self),
        }
    }

    fn uncovered(&mut self, ctx: &Context) -> Option<Route> {
        match load(ctx) {
            Ok(games) => self.games = games,
            Err(error) => self.notice = Some(Notice::error(&error)),
        }
        self.list.keep_within(self.games.len());
        None
    }

    fn notify(&mut self, notice: Notice) {
        self.notice = Some(notice);
    }

    fn draw(&self, canvas: &mut Canvas, _ctx: &Context) {
        let count = match self.games.len() {
            0 => String::new(),
            n => format!("{n} in all"),
        };
        chrome::title(canvas, "Your own games", &count);
        if self.games.is_empty() {
            let words = "No game of yours is here yet. `foreply games add FILE.pgn --player NAME` adds some; a score sheet \
                         from paper becomes a game with `foreply games sheet`.";
            canvas.put_wrapped((2, 2, canvas.width() - 4, 4), words, TextStyle::PLAIN);
        }
        let rows = canvas.height().saturating_sub(5);
        let line = |i: usize| self.games.get(i).map_or_else(String::new, line);
        let area = (0, 2, canvas.width(), rows);
        self.list.draw(canvas, area, self.games.len(), &line);
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        chrome::bar(canvas, KeyContext::OwnGames);
    }
}

fn line(of: &ListedGame) -> String {
    let game = &of.game;
    let state = match (of.going_on, of.thoughts, of.judged) {
        (true, ..) => "going on?",
        (_, Some(false), _) => "thoughts begun",
        (_, Some(true), _) => "thoughts locked",
        (_, None, true) => "judged",
        (_, None, false) => "",
    };
    format!(
        "{}  {}  {}  {}  {}  {state}",
        game.date(),
        game.side.fold_wb("White", "Black"),
        text::fit(&text::safe(game.opponent()), 20),
        text::fit(result(&game.game).unwrap_or("*"), 7),
        text::fit(&round(game.game.tag("Round")), 9),
    )
}

fn round(tag: Option<&str>) -> String {
    match tag {
        Some(round) if round != "?" && round != "-" => format!("round {}", text::safe(round)),
        _ => String::new(),
    }
}
