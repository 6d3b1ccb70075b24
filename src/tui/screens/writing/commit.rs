//! The commit: the choice in large letters, the verdict at its end, and one question.
//!
//! The questions are the same whatever was written, so that they give nothing away.

use std::collections::HashSet;

use crate::app::{AppError, AttemptSession, EntryToken};
use crate::attempt::EndCard;
use crate::tree::{NodeId, Tree, Verdict};
use crate::tui::forms::end_card::{self, EndCardQuestion};
use crate::tui::input::action::{Action, CommonAction, WritingAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::sessions::{LockedAttempt, OpenAttempt};
use crate::tui::nav::tour_step::TourStep;
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::clock;
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::position_text;
use crate::tui::widgets::tree_cursor::as_typed;
use crate::tui::widgets::variation_tree::{TreeView, unmarked};
use crate::{text, tree};

/// The tree before its lock.
pub struct CommitScreen {
    open: OpenAttempt,
    /// The last move of the choice's line.
    end: NodeId,
    step: CommitStep,
    /// How far the tree beside it is scrolled, in moves.
    scrolled: usize,
    notice: Option<Notice>,
}

enum CommitStep {
    /// The verdict at the end of the choice's line is typed.
    EndVerdict(LineEditor),
    /// One question about the board at the end of that line.
    Card(EndCardQuestion, EndCard, LineEditor),
    /// Lock, write on, or back.
    Confirm,
}

impl CommitScreen {
    #[must_use]
    pub fn new(open: OpenAttempt) -> Self {
        let tree = open.sitting.tree();
        let end = open.sitting.attempt().end_of_choice();
        let end = end.unwrap_or(NodeId::ROOT);
        let judged = tree.node(end).is_some_and(|n| n.verdict.is_some());
        Self {
            open,
            end,
            step: if judged {
                CommitStep::Confirm
            } else {
                CommitStep::EndVerdict(LineEditor::default())
            },
            scrolled: 0,
            notice: None,
        }
    }

    /// Back to the tree.
    fn write_on(self: Box<Self>) -> Transition {
        Transition::Replace(Route::Writing(Box::new(self.open)))
    }

    fn act(mut self: Box<Self>, action: Action) -> Transition {
        match action {
            Action::Common(CommonAction::Help) => {
                let help = Route::Help(self.key_contexts());
                return Transition::Push(self, help);
            }
            Action::Common(CommonAction::Back) => return self.write_on(),
            Action::Writing(WritingAction::Yes) => return self.lock(),
            Action::Writing(WritingAction::No) => {
                self.open.cursor = self.end;
                return self.write_on();
            }
            Action::Writing(WritingAction::EndCard) => {
                let card = EndCard::new(self.end);
                self.step = CommitStep::Card(EndCardQuestion::Mover, card, LineEditor::default());
            }
            Action::Common(CommonAction::Up) => self.scrolled = self.scrolled.saturating_sub(1),
            Action::Common(CommonAction::Down) => {
                let last = self.open.sitting.tree().len().saturating_sub(1);
                self.scrolled = (self.scrolled + 1).min(last);
            }
            Action::Common(CommonAction::Open) => self.submit(),
            Action::Edit(edit) => {
                if let Some(line) = self.line() {
                    line.edit(edit);
                }
            }
            _ => {}
        }
        Transition::Stay(self)
    }

    /// The line that is typed.
    fn line(&mut self) -> Option<&mut LineEditor> {
        match &mut self.step {
            CommitStep::EndVerdict(line) | CommitStep::Card(_, _, line) => Some(line),
            CommitStep::Confirm => None,
        }
    }

    fn submit(&mut self) {
        if let CommitStep::Card(..) = self.step {
            return self.submit_card();
        }
        let CommitStep::EndVerdict(line) = &mut self.step else {
            return;
        };
        if line.text().trim().is_empty() {
            self.step = CommitStep::Confirm;
            return;
        }
        let kept = Verdict::parse(line.text())
            .map_err(|e| e.to_string())
            .and_then(|verdict| {
                let piece = [EntryToken::Verdict(verdict)];
                let kept = self.open.sitting.write(self.end, &piece);
                kept.map_err(|e| e.to_string())
            });
        match kept {
            Ok(_) => self.step = CommitStep::Confirm,
            Err(words) => {
                line.mark(0..line.text().len());
                self.notice = Some(Notice::Alert(words));
            }
        }
    }

    /// One answer of the card, then the next question; an empty line leaves it open.
    fn submit_card(&mut self) {
        let CommitStep::Card(ask, card, line) = &mut self.step else {
            return;
        };
        let said = line.text().trim().to_owned();
        if let Err(words) = end_card::state(card, *ask, &said) {
            line.mark(0..line.text().len());
            self.notice = Some(Notice::Alert(words));
            return;
        }
        let next = ask.next();
        let card = card.clone();
        match next {
            Some(next) => self.step = CommitStep::Card(next, card, LineEditor::default()),
            None => match self.open.sitting.state_end(card) {
                Ok(()) => self.step = CommitStep::Confirm,
                Err(error) => self.notice = Some(Notice::error(&error)),
            },
        }
    }

    fn lock(mut self: Box<Self>) -> Transition {
        match self.open.sitting.lock() {
            Ok(()) => Transition::Replace(Route::Locked(Box::new(LockedAttempt {
                sitting: self.open.sitting,
                label: self.open.label,
            }))),
            Err(error) => {
                self.notice = Some(Notice::error(&error));
                Transition::Stay(self)
            }
        }
    }
}

impl Screen for CommitScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        match self.step {
            CommitStep::EndVerdict(_) | CommitStep::Card(..) => {
                &[KeyContext::EndVerdict, KeyContext::Line]
            }
            CommitStep::Confirm => &[KeyContext::Confirm],
        }
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, _ctx: &Context) -> Transition {
        if !matches!(input, ScreenInput::Click(_)) {
            self.notice = None;
        }
        match input {
            ScreenInput::Action(action) => return self.act(action),
            ScreenInput::Char(c) => {
                if let Some(line) = self.line() {
                    line.insert(c);
                }
            }
            _ => {}
        }
        Transition::Stay(self)
    }

    fn time_text(&self, _ctx: &Context) -> String {
        self.open.time_text()
    }

    fn tour_step(&self) -> Option<TourStep> {
        Some(TourStep::Commit)
    }

    fn close(&mut self) -> Result<(), AppError> {
        self.open.sitting.leave()
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let sitting = &self.open.sitting;
        let clock = clock::clock(sitting.left_ms(), sitting.used_ms());
        let turn = position_text::side(sitting.tree().root().player());
        let title = tr!("{}: {turn} to move", self.open.label);
        chrome::title(canvas, &title, &clock);
        let choice = sitting
            .attempt()
            .choice()
            .and_then(|c| sitting.tree().node(c));
        let choice = choice.map_or("", |n| n.text.as_str());
        canvas.put(2, 2, tr!("Your choice"), TextStyle::QUIET);
        boxed(canvas, (2, 3), choice);
        canvas.put(2, 8, &used(&self.open.sitting), TextStyle::PLAIN);
        self.draw_tree(canvas, ctx);
        self.draw_step(canvas);
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 3);
        }
    }
}

impl CommitScreen {
    /// The whole tree once more, on the right.
    fn draw_tree(&self, canvas: &mut Canvas, ctx: &Context) {
        let sitting = &self.open.sitting;
        let x = left_width(canvas) + 2;
        canvas.put(
            x + 2,
            2,
            tr!("Your tree, as it will stand"),
            TextStyle::QUIET,
        );
        let at = sitting.tree().nodes().nth(self.scrolled).map(|(id, _)| id);
        let view = TreeView {
            tree: sitting.tree(),
            choice: sitting.attempt().choice(),
            cursor: at.filter(|_| self.scrolled > 0),
            candidates_only: false,
            folded: &HashSet::new(),
            mark: &unmarked,
            ascii: ctx.display.glyphs.ascii,
        };
        let (width, height) = (canvas.width() - x, canvas.height().saturating_sub(7));
        view.draw(canvas, (x, 3, width, height));
    }

    fn draw_step(&self, canvas: &mut Canvas) {
        let tree = self.open.sitting.tree();
        let line = last_moves(&as_typed(tree, self.end));
        let (width, bottom) = (left_width(canvas) - 2, canvas.height());
        let put = |canvas: &mut Canvas, y, words: &str, style| {
            canvas.put_wrapped(
                (2, y, width, bottom.saturating_sub(y + 3).min(8)),
                words,
                style,
            )
        };
        match &self.step {
            CommitStep::EndVerdict(typed) => {
                let words = tr!("How do you judge the end of {line}?");
                let y = put(canvas, 10, &words, TextStyle::PLAIN);
                put(
                    canvas,
                    y + 1,
                    crate::translation::text(end_card::SIGNS),
                    TextStyle::QUIET,
                );
                chrome::entry_line(canvas, bottom - 2, tr!("verdict >"), typed);
                chrome::bar(canvas, KeyContext::EndVerdict);
            }
            CommitStep::Card(ask, card, typed) => {
                let words = tr!("See the board at the end of {line}.");
                let y = put(canvas, 10, &words, TextStyle::QUIET);
                let y = put(canvas, y + 1, &end_card::said(card), TextStyle::PLAIN);
                put(canvas, y, ask.words(), TextStyle::PLAIN);
                chrome::entry_line(canvas, bottom - 2, ask.prompt(), typed);
                chrome::bar(canvas, KeyContext::EndVerdict);
            }
            CommitStep::Confirm => {
                let words = tr!("At the end of {line}: {}.", verdict(tree, self.end));
                let mut y = put(canvas, 10, &words, TextStyle::PLAIN);
                if let Some(card) = self.open.sitting.attempt().end_card() {
                    y = put(canvas, y, &end_card::said(card), TextStyle::PLAIN);
                }
                y += 1;
                for (key, words) in QUESTIONS {
                    canvas.put(2, y, key, TextStyle::ACCENT.bold());
                    let area = (6, y, width - 4, 3);
                    y = canvas.put_wrapped(area, crate::translation::text(words), TextStyle::PLAIN);
                }
                chrome::bar(canvas, KeyContext::Confirm);
            }
        }
    }
}

/// Moves by which the end of a line is named; the whole of it stands beside.
const NAMED: usize = 6;

fn last_moves(line: &[&str]) -> String {
    let skipped = line.len().saturating_sub(NAMED);
    let last = line.get(skipped..).unwrap_or_default().join(" ");
    let dots = if skipped > 0 { "... " } else { "" };
    text::safe(&format!("{dots}{last}")).into_owned()
}

const QUESTIONS: [(&str, &str); 4] = [
    ("n", tr_later!("Write one more reply")),
    (
        "e",
        tr_later!("Say who moves at the end, the material and your plan"),
    ),
    (
        "y",
        tr_later!("Lock the tree: it is final from then on and cannot be taken back"),
    ),
    ("Esc", tr_later!("Back")),
];

/// Columns of the left half.
fn left_width(canvas: &Canvas) -> usize {
    canvas.width() / 2 - 2
}

fn verdict(tree: &Tree, end: NodeId) -> String {
    let verdict = tree.node(end).and_then(|n| n.verdict);
    verdict.map_or_else(
        || tr!("no verdict").to_owned(),
        |v| format!("{v} {}", tree::Verdict::words(v)),
    )
}

fn used(sitting: &AttemptSession) -> String {
    let used = text::clock(sitting.used_ms());
    match sitting.attempt().opened().budget_ms {
        Some(budget) => tr!("Clock used: {used} of {}", text::clock(budget)),
        None => tr!("Clock used: {used}"),
    }
}

/// A text in spaced letters in a box.
fn boxed(canvas: &mut Canvas, (x, y): (usize, usize), words: &str) {
    let spaced: Vec<String> = text::safe(words).chars().map(String::from).collect();
    let spaced = spaced.join(" ");
    let rule = "-".repeat(text::width(&spaced) + 6);
    let gap = " ".repeat(text::width(&spaced) + 6);
    canvas.put(x, y, &format!("+{rule}+"), TextStyle::PLAIN);
    canvas.put(x, y + 1, &format!("|{gap}|"), TextStyle::PLAIN);
    canvas.put(
        x,
        y + 2,
        &format!("|   {spaced}   |"),
        TextStyle::PLAIN.bold(),
    );
    canvas.put(x, y + 3, &format!("|{gap}|"), TextStyle::PLAIN);
    canvas.put(x, y + 4, &format!("+{rule}+"), TextStyle::PLAIN);
}
