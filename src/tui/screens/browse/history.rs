//! All locked attempts, the newest first.

use std::collections::HashMap;

use crate::app::{AppError, AttemptId, GameId, GameSummary, HistoryEntry, ShortNames, Subject};
use crate::attempt::Origin;
use crate::board::{Line, line};
use crate::text;
use crate::tui::forms::clarification::Clarification;
use crate::tui::input::action::{Action, CommonAction, ListAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::labels;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::{ReviewRequest, Route};
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::sessions::LockedAttempt;
use crate::tui::screens::browse::columns::{NARROW, columns};
use crate::tui::widgets::canvas::{Canvas, ClickTarget, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::list::ListView;
use crate::tui::widgets::page::{PageScroll, TextPage};
use crate::tui::widgets::position_text;

use shakmaty::Color;

const CONTEXTS: &[KeyContext] = &[KeyContext::History];
const FILTER_CONTEXTS: &[KeyContext] = &[KeyContext::Filter, KeyContext::Line];

/// One row: an attempt, or a game that was played out.
#[derive(Clone)]
enum HistoryRow {
    Attempt(AttemptId, HistoryEntry),
    Game(GameId, GameSummary),
}

impl HistoryRow {
    fn wall_ms(&self) -> i64 {
        match self {
            Self::Attempt(_, entry) => entry.wall_ms,
            Self::Game(_, game) => game.wall_ms,
        }
    }
}

/// The list.
pub struct HistoryScreen {
    every: Vec<HistoryRow>,
    /// Where the games come from that were played out, by their names.
    games: HashMap<String, Origin>,
    /// What is typed for each of them after a command.
    short: ShortNames,
    /// Those that the filter lets through.
    all: Vec<HistoryRow>,
    filter: LineEditor,
    filtering: bool,
    list: ListView,
    notice: Option<Notice>,
}

impl HistoryScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(ctx: &Context) -> Result<Self, AppError> {
        let every = rows(ctx)?;
        Ok(Self {
            all: every.clone(),
            games: games(&every),
            short: ctx.app.attempts().short_names()?,
            every,
            filter: LineEditor::default(),
            filtering: false,
            list: ListView::default(),
            notice: None,
        })
    }

    fn act(mut self: Box<Self>, action: Action, ctx: &Context) -> Transition {
        match action {
            Action::Common(CommonAction::Back) => return Transition::Pop,
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Open) => return self.show(ctx),
            Action::List(ListAction::Filter) => self.filtering = true,
            Action::Common(CommonAction::Again) => return self.again(ctx),
            Action::Common(CommonAction::ForCoach) => self.for_coach(ctx),
            Action::List(ListAction::BlindSpots) => {
                return Transition::Push(self, Route::BlindSpots);
            }
            Action::List(ListAction::Figures) => return Transition::Push(self, Route::Figures),
            action => self.list.walk(action, self.all.len()),
        }
        Transition::Stay(self)
    }

    /// The list follows what is typed.
    fn type_filter(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        match input {
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(FILTER_CONTEXTS));
            }
            ScreenInput::Action(Action::Common(CommonAction::Open)) => self.filtering = false,
            ScreenInput::Action(Action::Common(CommonAction::Back)) => {
                self.filtering = false;
                self.filter.set("");
            }
            ScreenInput::Action(Action::Edit(edit)) => self.filter.edit(edit),
            ScreenInput::Char(c) => self.filter.insert(c),
            _ => {}
        }
        self.sift(ctx);
        Transition::Stay(self)
    }

    /// Lists again what the filter lets through.
    fn sift(&mut self, ctx: &Context) {
        let wanted = self.filter.text().to_lowercase();
        let names = self.names(ctx);
        let holds = |row: &HistoryRow| {
            // Days are found as they stand there, and as they are written everywhere.
            let (HistoryRow::Attempt(_, HistoryEntry { wall_ms, .. })
            | HistoryRow::Game(_, GameSummary { wall_ms, .. })) = row;
            let day = text::within(text::Locale::STANDARD, || {
                labels::date(*wall_ms, &ctx.display.zone)
            });
            let told = [line(&names, row, WIDE), beside(&names, row), day];
            let line = told.join(" ").to_lowercase();
            let line = line.replace("not reviewed yet", "not reviewed yet unreviewed");
            wanted.split_whitespace().all(|word| line.contains(word))
        };
        let held = self.every.iter().filter(|row| holds(row));
        let held = held.cloned().collect();
        self.all = held;
        self.list.keep_within(self.all.len());
    }

    /// Writes the marked attempt to a file for the coach.
    fn for_coach(&mut self, ctx: &Context) {
        self.notice = match self.all.get(self.list.at()) {
            None => return,
            Some(HistoryRow::Game(..)) => {
                let words =
                    tr!("A game is not sent; what you wrote in it stands below as an attempt.");
                Some(Notice::Quiet(words.to_owned()))
            }
            Some(HistoryRow::Attempt(id, _)) => {
                Some(match ctx.app.coach().send_to_coach(id, &ctx.display.zone) {
                    Ok(file) => Notice::Quiet(labels::for_coach(&file)),
                    Err(error) => Notice::error(&error),
                })
            }
        };
    }

    /// The marked position once more: as a sitting, or as a game.
    fn again(self: Box<Self>, ctx: &Context) -> Transition {
        let route = match self.all.get(self.list.at()) {
            None => return Transition::Stay(self),
            Some(HistoryRow::Attempt(id, entry)) => match &entry.origin {
                Origin::Drill(drill) => {
                    let subject = Subject::Drill(drill.clone());
                    Ok(Route::Preview(Box::new(subject)))
                }
                _ => ctx.app.attempts().attempt(id).map(|attempt| {
                    let root = attempt.tree().root().clone();
                    Route::Preview(Box::new(Subject::Position(root)))
                }),
            },
            Some(HistoryRow::Game(_, game)) => match line::read_fen(&game.root) {
                Ok(root) => {
                    let subject = Subject::Position(Line::new(root));
                    Ok(Route::NewGame(Box::new(subject)))
                }
                Err(error) => Err(AppError::Line(error.to_string())),
            },
        };
        match route {
            Ok(route) => Transition::Push(self, route),
            Err(error) => self.tell(&error),
        }
    }

    fn tell(mut self: Box<Self>, error: &AppError) -> Transition {
        self.notice = Some(Notice::error(error));
        Transition::Stay(self)
    }

    /// A click marks; a click on what is marked opens it.
    fn click(mut self: Box<Self>, target: ClickTarget, ctx: &Context) -> Transition {
        match target {
            ClickTarget::Item(item) if item == self.list.at() => return self.show(ctx),
            ClickTarget::Item(item) if item < self.all.len() => self.list.go(item),
            _ => {}
        }
        Transition::Stay(self)
    }

    /// What was left open is asked before the review.
    fn show(self: Box<Self>, ctx: &Context) -> Transition {
        let (id, summary) = match self.all.get(self.list.at()) {
            None => return Transition::Stay(self),
            Some(HistoryRow::Game(id, game)) => {
                let (id, over) = (id.clone(), game.outcome.is_some());
                return self.show_game(ctx, &id, over);
            }
            Some(HistoryRow::Attempt(id, summary)) => (id, summary),
        };
        let label = labels::origin(&ctx.app, &summary.origin);
        let sitting = match ctx.app.attempts().locked(id) {
            Ok(sitting) => sitting,
            Err(error) => return self.tell(&error),
        };
        let route = if Clarification::of(&sitting, &[]).is_some() {
            Route::Locked(Box::new(LockedAttempt { sitting, label }))
        } else {
            Route::PendingReview(ReviewRequest::of(id.clone(), label))
        };
        Transition::Push(self, route)
    }
}

impl HistoryScreen {
    /// The account of a game that is over; one that goes on is taken up.
    fn show_game(self: Box<Self>, ctx: &Context, id: &GameId, over: bool) -> Transition {
        if !over {
            return Transition::Push(self, Route::ResumedGame(id.clone()));
        }
        match ctx.app.playouts().resume_playout(id) {
            Ok(playing) => Transition::Push(self, Route::GameAccount(Box::new(playing))),
            Err(error) => self.tell(&error),
        }
    }

    fn names<'a>(&'a self, ctx: &'a Context) -> Names<'a> {
        Names {
            ctx,
            games: &self.games,
            short: &self.short,
        }
    }

    /// What the list shows, in a word: all, or what the filter lets through.
    fn count(&self) -> String {
        let filter = self.filter.text().trim();
        match (self.all.len(), self.every.len()) {
            (_, all) if filter.is_empty() => tr!("{} in all", text::whole(all)),
            (shown, all) => tr!("{} of {}", text::whole(shown), text::whole(all)),
        }
    }

    /// The filter that is on, by its words, and how to be rid of it; an empty result says so.
    fn filter_words(&self) -> Option<String> {
        let filter = self.filter.text().trim();
        let off = tr!("/ then Esc shows all");
        match (filter, self.all.is_empty()) {
            ("", _) => None,
            (filter, true) => Some(tr!("Nothing holds all of: {filter}. {off}.")),
            (filter, false) => Some(tr!("Only what holds: {filter}. {off}.")),
        }
    }
}

impl Screen for HistoryScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        if self.filtering {
            FILTER_CONTEXTS
        } else {
            CONTEXTS
        }
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if let ScreenInput::Click(target) = input {
            return self.click(target, ctx);
        }
        self.notice = None;
        match input {
            input if self.filtering => self.type_filter(input, ctx),
            ScreenInput::Action(action) => self.act(action, ctx),
            _ => Transition::Stay(self),
        }
    }

    /// What was reviewed meanwhile is told so.
    fn uncovered(&mut self, ctx: &Context) -> Option<Route> {
        let short = ctx.app.attempts().short_names();
        match rows(ctx).and_then(|every| Ok((every, short?))) {
            Ok((every, short)) => {
                self.games = games(&every);
                self.short = short;
                self.every = every;
                self.sift(ctx);
            }
            Err(error) => self.notice = Some(Notice::error(&error)),
        }
        None
    }

    fn notify(&mut self, notice: Notice) {
        self.notice = Some(notice);
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        chrome::title(canvas, tr!("Attempts and games"), &self.count());
        let names = self.names(ctx);
        let wide = canvas.width() >= WIDE;
        if self.every.is_empty() {
            canvas.put(2, 3, tr!("No attempt is locked yet."), TextStyle::QUIET);
        }
        if let Some(words) = self.filter_words().filter(|_| !self.filtering) {
            canvas.put(2, 1, &words, TextStyle::ACCENT);
        }
        let every = HEAD.map(crate::translation::text);
        let shown = if wide { HEAD.len() } else { NARROW.len() };
        let heads = every.get(..shown).unwrap_or(&every);
        canvas.put(2, 2, &columns(heads, wide), TextStyle::QUIET);
        let mut page = TextPage::new(canvas.width() - 4);
        if let Some(marked) = self.all.get(self.list.at()) {
            page.say(&beside(&names, marked), TextStyle::QUIET);
        }
        let bottom = canvas.height() - 2;
        let top = bottom.saturating_sub(page.len());
        page.draw(canvas, (2, top, page.len()), &PageScroll::default());
        let width = canvas.width();
        let line = |i: usize| {
            self.all
                .get(i)
                .map_or_else(String::new, |row| line(&names, row, width))
        };
        // Always so many rows, so that the list stands still while the mark goes through it.
        let rows = canvas
            .height()
            .saturating_sub(3 + BELOW)
            .min(top.saturating_sub(4));
        self.list
            .draw(canvas, (0, 3, width, rows), self.all.len(), &line);
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        if self.filtering {
            chrome::entry_line(
                canvas,
                canvas.height() - 2,
                tr!("with the words >"),
                &self.filter,
            );
            chrome::bar(canvas, KeyContext::Filter);
        } else {
            chrome::bar(canvas, KeyContext::History);
        }
    }
}

/// What the rows are called.
struct Names<'a> {
    ctx: &'a Context,
    games: &'a HashMap<String, Origin>,
    short: &'a ShortNames,
}

impl Names<'_> {
    fn of(&self, origin: &Origin) -> String {
        let app = &self.ctx.app;
        let name = match origin {
            Origin::Playout { game, ply } => {
                let from = self.games.get(game);
                let from = from.map_or_else(
                    || tr!("a game that is gone").to_owned(),
                    |from| labels::locked(app, from),
                );
                tr!("{from}, played out, before half-move {}", ply + 1)
            }
            origin => labels::locked(app, origin),
        };
        text::safe(&name).into_owned()
    }
}

fn games(rows: &[HistoryRow]) -> HashMap<String, Origin> {
    let games = rows.iter().filter_map(|row| match row {
        HistoryRow::Attempt(..) => None,
        HistoryRow::Game(id, game) => Some((id.0.clone(), game.origin.clone())),
    });
    games.collect()
}

/// Attempts and games, the newest first.
fn rows(ctx: &Context) -> Result<Vec<HistoryRow>, AppError> {
    let attempts = ctx.app.attempts().history()?.into_iter();
    let games = ctx.app.playouts().games_played_out()?.into_iter();
    let mut rows: Vec<HistoryRow> = attempts
        .map(|(id, entry)| HistoryRow::Attempt(id, entry))
        .chain(games.map(|(id, game)| HistoryRow::Game(id, game)))
        .collect();
    rows.sort_by_key(|row| std::cmp::Reverse(row.wall_ms()));
    Ok(rows)
}

/// From so many columns on the depths have columns of their own.
const WIDE: usize = 120;
/// Rows that are kept free below the list.
const BELOW: usize = 6;

/// Column heads and rows of the list, in the same widths.
const HEAD: [&str; 9] = [
    tr_later!("date"),
    tr_later!("position"),
    tr_later!("time"),
    tr_later!("chosen"),
    tr_later!("findings"),
    tr_later!("effect"),
    tr_later!("needed"),
    tr_later!("reached"),
    tr_later!("sound"),
];

/// One row. Effect is in expected score, depths in half-moves.
fn line(names: &Names<'_>, row: &HistoryRow, width: usize) -> String {
    let ctx = names.ctx;
    let wide = width >= WIDE;
    let summary = match row {
        HistoryRow::Attempt(_, summary) => summary,
        HistoryRow::Game(_, game) => {
            let date = labels::date(game.wall_ms, &ctx.display.zone);
            return format!("{date} {}", labels::played_out(&ctx.app, game));
        }
    };
    let front = [
        labels::date(summary.wall_ms, &ctx.display.zone),
        names.of(&summary.origin),
        text::clock(summary.used_ms),
        text::safe(&summary.choice).into_owned(),
    ];
    let Some(reviewed) = &summary.reviewed else {
        return tr!("{}  not reviewed yet", columns(&front, wide));
    };
    let findings = match reviewed.findings {
        0 => tr!("clean").to_owned(),
        n => n.to_string(),
    };
    let depths = [reviewed.needed, reviewed.reached, reviewed.sound];
    let back = [findings, text::decimal(reviewed.effect, 2)];
    let depths = depths.map(|d| d.to_string());
    let depths = depths.iter().filter(|_| wide).cloned();
    let all: Vec<String> = front.into_iter().chain(back).chain(depths).collect();
    columns(&all, wide)
}

/// A tenth of the time left, or less, is late (our definition, no source).
const LATE: u64 = 10;

/// What the row has no room for: the whole name, whose move it was, whether the time was short, the depths and
/// the kinds of findings.
fn beside(names: &Names<'_>, row: &HistoryRow) -> String {
    let (id, summary) = match row {
        HistoryRow::Attempt(id, summary) => (id, summary),
        HistoryRow::Game(id, game) => {
            let played = labels::played_out(&names.ctx.app, game);
            return tr!("{played}. For commands: {}.", names.short.shown(&id.0));
        }
    };
    let name = names.of(&summary.origin);
    let side = summary.black.map(|black| {
        let color = if black { Color::Black } else { Color::White };
        tr!("{} to move.", position_text::side(color))
    });
    let time = summary.budget_ms.and_then(|budget| {
        let left = budget.checked_sub(summary.used_ms);
        match left {
            None => Some(tr!("Over the time.")),
            Some(left) if left * LATE <= budget => Some(tr!("Late: a tenth of the time left.")),
            Some(_) => None,
        }
    });
    let kinds = summary.reviewed.iter().flat_map(|r| &r.kinds);
    let kinds: Vec<&str> = kinds.map(|k| k.label()).collect();
    let kinds = (!kinds.is_empty()).then(|| format!("{}.", kinds.join(", ")));
    let depths = summary.reviewed.as_ref().map(|r| {
        tr!(
            "Half-moves: {} needed, {} reached, {} sound.",
            r.needed,
            r.reached,
            r.sound
        )
    });
    let parts = std::iter::once(format!("{name}."))
        .chain(side)
        .chain(time.map(str::to_owned))
        .chain(kinds)
        .chain(depths)
        .chain(std::iter::once(tr!(
            "For commands: {}.",
            names.short.shown(&id.0)
        )));
    parts.collect::<Vec<_>>().join(" ")
}
