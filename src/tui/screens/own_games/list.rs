//! All own games, the newest first.

use crate::app::{AppError, ListedGame, TakeawayChange};
use crate::games::event::countable::Countable;
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
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::list::ListView;

const CONTEXTS: &[KeyContext] = &[KeyContext::OwnGames];
const LINE_CONTEXTS: &[KeyContext] = &[KeyContext::RecallLine, KeyContext::Line];

/// The list.
pub struct OwnGamesScreen {
    games: Vec<ListedGame>,
    list: ListView,
    /// What he takes away from the event of the marked game, while it is typed.
    typed: Option<LineEditor>,
    notice: Option<Notice>,
}

impl OwnGamesScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(ctx: &Context) -> Result<Self, AppError> {
        Ok(Self {
            games: load(ctx)?,
            list: ListView::default(),
            typed: None,
            notice: None,
        })
    }

    fn act(mut self: Box<Self>, action: Action) -> Transition {
        let route = match action {
            Action::Common(CommonAction::Back) => return Transition::Pop,
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::OwnGame(OwnGameAction::Sheet) => Some(Route::Sheet),
            Action::OwnGame(OwnGameAction::TakeAway) => {
                self.typed = self.marked().map(|_| LineEditor::default());
                None
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

    /// A takeaway as it is typed; what it is tied to stands behind it in square brackets.
    fn take_away(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        let Some(typed) = &mut self.typed else {
            return Transition::Stay(self);
        };
        match input {
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(LINE_CONTEXTS));
            }
            ScreenInput::Action(Action::Common(CommonAction::Back)) => self.typed = None,
            ScreenInput::Action(Action::Common(CommonAction::Open)) => {
                let line = typed.text().to_owned();
                match self.keep(&line, ctx) {
                    Ok(words) => {
                        self.typed = None;
                        self.notice = Some(Notice::Quiet(words));
                    }
                    Err(why) => self.notice = Some(Notice::Alert(why)),
                }
            }
            ScreenInput::Action(Action::Edit(edit)) => typed.edit(edit),
            ScreenInput::Char(c) => typed.insert(c),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn keep(&self, line: &str, ctx: &Context) -> Result<String, String> {
        let marked = self.marked().ok_or(tr!("no game is marked"))?;
        let (words, tied) = match line
            .trim()
            .strip_suffix(']')
            .and_then(|l| l.rsplit_once('['))
        {
            Some((words, tied)) => (words, Some(Countable::parse(tied)?)),
            None => (line, None),
        };
        let games = ctx.app.games();
        let event = games
            .event_of_game(&marked.game.id)
            .map_err(|e| e.to_string())?;
        let change = TakeawayChange::Add(words.trim().to_owned(), tied);
        let kept = games
            .change_takeaways(&event, change)
            .map_err(|e| e.to_string())?;
        let count = tr!(kept.takeaways.len(); "One takeaway is" | "{} takeaways are", text::capital(&text::number(kept.takeaways.len())));
        Ok(tr!("{count} kept for {}.", text::safe(&event.name)))
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
    Route::OwnGameAccount(of.game.id.clone())
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
        match self.typed {
            Some(_) => LINE_CONTEXTS,
            None => CONTEXTS,
        }
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        match input {
            ScreenInput::Click(_) if self.typed.is_some() => Transition::Stay(self),
            input if self.typed.is_some() => {
                self.notice = None;
                self.take_away(input, ctx)
            }
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
            n => tr!("{} in all", text::whole(n)),
        };
        chrome::title(canvas, tr!("Your own games"), &count);
        if self.games.is_empty() {
            let words = tr!(
                "No game of yours is here yet. `foreply games add FILE.pgn --player NAME` adds some; s types a \
                         score sheet from paper."
            );
            canvas.put_wrapped((2, 2, canvas.width() - 4, 4), words, TextStyle::PLAIN);
        }
        let rows = canvas.height().saturating_sub(5);
        let line = |i: usize| self.games.get(i).map_or_else(String::new, line);
        let area = (0, 2, canvas.width(), rows);
        self.list.draw(canvas, area, self.games.len(), &line);
        let bottom = canvas.height() - 2;
        let Some(typed) = &self.typed else {
            if let Some(notice) = &self.notice {
                notice.draw(canvas, bottom);
            }
            return chrome::bar(canvas, KeyContext::OwnGames);
        };
        let words = tr!(
            "What you take away from the event of this game, in your own words. Behind it in square brackets, if \
                     you like, what is to be counted: [reply-overlooked], [clock:20], [converted], [recognised] ..."
        );
        canvas.clear((0, bottom - 2, canvas.width(), 2));
        canvas.put_wrapped((0, bottom - 2, canvas.width(), 2), words, TextStyle::QUIET);
        if let Some(notice) = &self.notice {
            notice.draw(canvas, bottom - 1);
        }
        chrome::entry_line(canvas, bottom, tr!("take away >"), typed);
        chrome::bar(canvas, KeyContext::RecallLine);
    }
}

fn line(of: &ListedGame) -> String {
    let game = &of.game;
    let state = match (of.going_on, of.thoughts, of.judged) {
        (true, ..) => tr!("going on?"),
        (_, Some(false), _) => tr!("thoughts begun"),
        (_, Some(true), _) => tr!("thoughts locked"),
        (_, None, true) => tr!("judged"),
        (_, None, false) => "",
    };
    format!(
        "{}  {}  {}  {}  {}  {state}",
        text::fit(&text::day(game.date()), text::date_columns()),
        game.side.fold_wb(tr!("White"), tr!("Black")),
        text::fit(&text::safe(game.opponent()), 20),
        text::fit(result(&game.game).unwrap_or("*"), 7),
        text::fit(&round(game.game.tag("Round")), 9),
    )
}

fn round(tag: Option<&str>) -> String {
    match tag {
        Some(round) if round != "?" && round != "-" => tr!("round {}", text::safe(round)),
        _ => String::new(),
    }
}
