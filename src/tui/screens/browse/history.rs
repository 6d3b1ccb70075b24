//! All locked attempts, the newest first.

use crate::app::{AppError, AttemptId, HistoryEntry, Subject};
use crate::attempt::Origin;
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
use crate::tui::widgets::canvas::{Canvas, ClickTarget, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::list::ListView;
use crate::tui::widgets::position_text;

use shakmaty::Color;

const CONTEXTS: &[KeyContext] = &[KeyContext::History];
const FILTER_CONTEXTS: &[KeyContext] = &[KeyContext::Filter, KeyContext::Line];

/// The list.
pub struct HistoryScreen {
    every: Vec<(AttemptId, HistoryEntry)>,
    /// Those that the filter lets through.
    all: Vec<(AttemptId, HistoryEntry)>,
    filter: LineEditor,
    filtering: bool,
    list: ListView,
    notice: Option<Notice>,
}

impl HistoryScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(ctx: &Context) -> Result<Self, AppError> {
        let every = ctx.app.attempts().history()?;
        Ok(Self {
            all: every.clone(),
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
        let holds = |summary: &HistoryEntry| {
            let line = format!("{} {}", line(ctx, summary), beside(summary)).to_lowercase();
            let line = line.replace("not reviewed yet", "not reviewed yet unreviewed");
            wanted.split_whitespace().all(|word| line.contains(word))
        };
        let held = self.every.iter().filter(|(_, s)| holds(s));
        self.all = held.cloned().collect();
        self.list.keep_within(self.all.len());
    }

    /// Writes the marked attempt to a file for the coach.
    fn for_coach(&mut self, ctx: &Context) {
        let Some((id, _)) = self.all.get(self.list.at()) else {
            return;
        };
        self.notice = Some(match ctx.app.coach().send_to_coach(id) {
            Ok(file) => Notice::Quiet(labels::for_coach(&file)),
            Err(error) => Notice::error(&error),
        });
    }

    /// The marked position once more.
    fn again(self: Box<Self>, ctx: &Context) -> Transition {
        let Some((id, summary)) = self.all.get(self.list.at()) else {
            return Transition::Stay(self);
        };
        let subject = match &summary.origin {
            Origin::Drill(drill) => Ok(Subject::Drill(drill.clone())),
            _ => ctx.app.attempts().attempt(id).map(|attempt| {
                let root = attempt.tree().root().clone();
                Subject::Position(root)
            }),
        };
        match subject {
            Ok(subject) => Transition::Push(self, Route::Preview(Box::new(subject))),
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
        let Some((id, summary)) = self.all.get(self.list.at()) else {
            return Transition::Stay(self);
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
        match ctx.app.attempts().history() {
            Ok(every) => {
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
        let count = match (self.all.len(), self.every.len()) {
            (shown, all) if shown == all => format!("{all} in all"),
            (shown, all) => format!("{shown} of {all}"),
        };
        chrome::title(canvas, "Attempts", &count);
        if self.every.is_empty() {
            canvas.put(2, 3, "No attempt is locked yet.", TextStyle::QUIET);
        }
        canvas.put(2, 2, &columns(&HEAD), TextStyle::QUIET);
        let rows = canvas.height().saturating_sub(7);
        if let Some((_, marked)) = self.all.get(self.list.at()) {
            canvas.put(2, canvas.height() - 3, &beside(marked), TextStyle::QUIET);
        }
        let line = |i: usize| {
            self.all
                .get(i)
                .map_or_else(String::new, |(_, s)| line(ctx, s))
        };
        let area = (0, 3, canvas.width(), rows);
        self.list.draw(canvas, area, self.all.len(), &line);
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        if self.filtering {
            chrome::entry_line(
                canvas,
                canvas.height() - 2,
                "with the words >",
                &self.filter,
            );
            chrome::bar(canvas, KeyContext::Filter);
        } else {
            chrome::bar(canvas, KeyContext::History);
        }
    }
}

/// Column heads and rows of the list, in the same widths.
const HEAD: [&str; 9] = [
    "date", "position", "time", "chosen", "findings", "effect", "needed", "reached", "sound",
];

/// One attempt in one line. Effect is in expected score, depths in half-moves.
fn line(ctx: &Context, summary: &HistoryEntry) -> String {
    let front = [
        labels::date(summary.wall_ms, &ctx.display.zone),
        labels::origin(&ctx.app, &summary.origin),
        text::clock(summary.used_ms),
        text::safe(&summary.choice).into_owned(),
    ];
    let Some(reviewed) = &summary.reviewed else {
        return format!("{}  not reviewed yet", columns(&front));
    };
    let findings = match reviewed.findings {
        0 => "clean".to_owned(),
        n => n.to_string(),
    };
    let depths = [reviewed.needed, reviewed.reached, reviewed.sound];
    let back = [findings, format!("{:.2}", reviewed.effect)];
    let back = back.into_iter().chain(depths.map(|d| d.to_string()));
    let all: Vec<String> = front.into_iter().chain(back).collect();
    columns(&all)
}

/// A tenth of the time left, or less, is late (our definition, no source).
const LATE: u64 = 10;

/// What the row has no room for: whose move it was, whether the time was short, the kinds of findings.
fn beside(summary: &HistoryEntry) -> String {
    let side = summary.black.map(|black| {
        let color = if black { Color::Black } else { Color::White };
        format!("{} to move.", position_text::side(color))
    });
    let time = summary.budget_ms.and_then(|budget| {
        let left = budget.checked_sub(summary.used_ms);
        match left {
            None => Some("Over the time."),
            Some(left) if left * LATE <= budget => Some("Late: a tenth of the time left."),
            Some(_) => None,
        }
    });
    let kinds = summary.reviewed.iter().flat_map(|r| &r.kinds);
    let kinds: Vec<&str> = kinds.map(|k| k.label()).collect();
    let kinds = (!kinds.is_empty()).then(|| format!("{}.", kinds.join(", ")));
    let parts = side.into_iter().chain(time.map(str::to_owned)).chain(kinds);
    parts.collect::<Vec<_>>().join(" ")
}

fn columns(parts: &[impl AsRef<str>]) -> String {
    // Widths; true for columns that end at the right.
    const WIDTHS: [(usize, bool); 9] = [
        (10, false),
        (12, false),
        (7, true),
        (8, false),
        (8, true),
        (6, true),
        (6, true),
        (7, true),
        (5, true),
    ];
    let fitted = parts.iter().zip(WIDTHS).map(|(part, (width, right))| {
        let cut = text::fit(part.as_ref(), width);
        if right {
            format!("{:>width$}", cut.trim_end())
        } else {
            cut
        }
    });
    fitted.collect::<Vec<_>>().join(" ")
}
