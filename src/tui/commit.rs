//! The commit: the choice in large letters, the verdict at its end, and one question.
//!
//! The questions are the same whatever was written, so that they give nothing away.

use super::command::{self, Do, Place};
use super::entry::Entry;
use super::entry_line::EntryLine;
use super::frame::{self, Answer};
use super::help::HelpScreen;
use super::key::Key;
use super::locked::Locked;
use super::model::{Next, Screen};
use super::page::{Ink, Page};
use super::tree_view::as_typed;
use super::words;
use crate::app::Piece;
use crate::tree::{NodeId, Tree, Verdict};
use crate::{text, tree};

/// The tree before its lock.
pub struct Commit {
    pub(super) entry: Entry,
    /// The last move of the choice's line.
    end: NodeId,
    step: Step,
    answer: Option<Answer>,
}

enum Step {
    /// The verdict at the end of the choice's line is typed.
    EndVerdict(EntryLine),
    /// Lock, write on, or back.
    Confirm,
}

impl Commit {
    #[must_use]
    pub fn new(entry: Entry) -> Self {
        let tree = entry.sitting.tree();
        let end = entry
            .sitting
            .attempt()
            .choice()
            .map_or(NodeId::ROOT, |c| end_of_line(tree, c));
        let judged = tree.node(end).is_some_and(|n| n.verdict.is_some());
        Self {
            entry,
            end,
            step: if judged {
                Step::Confirm
            } else {
                Step::EndVerdict(EntryLine::default())
            },
            answer: None,
        }
    }

    fn places(&self) -> &'static [Place] {
        match self.step {
            Step::EndVerdict(_) => &[Place::EndVerdict, Place::Line],
            Step::Confirm => &[Place::Confirm],
        }
    }

    pub fn press(mut self, key: Key) -> Next {
        self.answer = None;
        let run = command::find(self.places(), key);
        match run {
            Some(Do::Help) => {
                let help = HelpScreen::of(self.places());
                return Next::Over(Screen::Commit(Box::new(self)), help);
            }
            Some(Do::Back) => return Next::Stay(Screen::Entry(Box::new(self.entry))),
            Some(Do::Yes) => return self.lock(),
            Some(Do::No) => {
                self.entry.cursor = self.end;
                return Next::Stay(Screen::Entry(Box::new(self.entry)));
            }
            Some(Do::Open) => self.submit(),
            Some(_) | None => self.type_verdict(run, key),
        }
        Next::Stay(Screen::Commit(Box::new(self)))
    }

    fn type_verdict(&mut self, run: Option<Do>, key: Key) {
        if let Step::EndVerdict(line) = &mut self.step {
            match (run, key) {
                (Some(Do::Edit(edit)), _) => line.edit(edit),
                (None, Key::Char(c)) => line.insert(c),
                _ => {}
            }
        }
    }

    fn submit(&mut self) {
        let Step::EndVerdict(line) = &mut self.step else {
            return;
        };
        if line.text().trim().is_empty() {
            self.step = Step::Confirm;
            return;
        }
        let kept = Verdict::parse(line.text())
            .map_err(|e| e.to_string())
            .and_then(|verdict| {
                let piece = [Piece::Verdict(verdict)];
                let kept = self.entry.sitting.write(self.end, &piece);
                kept.map_err(|e| e.to_string())
            });
        match kept {
            Ok(_) => self.step = Step::Confirm,
            Err(words) => {
                line.mark(0..line.text().len());
                self.answer = Some(Answer::Alert(words));
            }
        }
    }

    fn lock(mut self) -> Next {
        match self.entry.sitting.lock() {
            Ok(()) => Next::Stay(Screen::Locked(Box::new(Locked::new(
                self.entry.sitting,
                self.entry.label,
            )))),
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::Commit(Box::new(self)))
            }
        }
    }

    pub fn draw(&self, page: &mut Page) {
        let sitting = &self.entry.sitting;
        let clock = words::clock(sitting.left_ms(), sitting.used_ms());
        let turn = words::side(sitting.tree().root().player());
        frame::title(
            page,
            &format!("{}: {turn} to move", self.entry.label),
            &clock,
        );
        let choice = sitting
            .attempt()
            .choice()
            .and_then(|c| sitting.tree().node(c));
        let choice = choice.map_or("", |n| n.text.as_str());
        page.put(4, 3, "Your choice", Ink::QUIET);
        boxed(page, (4, 4), choice);
        page.put(4, 9, &used(&self.entry), Ink::PLAIN);
        self.draw_step(page);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 3);
        }
    }

    fn draw_step(&self, page: &mut Page) {
        let tree = self.entry.sitting.tree();
        let line = text::safe(&as_typed(tree, self.end).join(" ")).into_owned();
        let width = page.width() - 8;
        match &self.step {
            Step::EndVerdict(typed) => {
                let words = format!("How do you judge the end of {line}?");
                let y = page.put_wrapped((4, 11, width, 3), &words, Ink::PLAIN);
                let signs = "= level, +/= +/- +- White is better, clearly better, winning, =/+ -/+ -+ the \
                             same for Black, 65% what you expect to score, ~ unclear. Enter alone leaves it open.";
                page.put_wrapped((4, y + 1, width, 3), signs, Ink::QUIET);
                frame::entry_line(page, page.height() - 2, "verdict >", typed);
                frame::bar(page, Place::EndVerdict);
            }
            Step::Confirm => {
                let words = format!("At the end of {line}: {}.", verdict(tree, self.end));
                let y = page.put_wrapped((4, 11, width, 3), &words, Ink::PLAIN) + 1;
                let questions = [
                    ("n", "Write one more reply"),
                    ("y", "Lock the tree: it is final from then on"),
                    ("Esc", "Back"),
                ];
                for (i, (key, words)) in questions.into_iter().enumerate() {
                    page.put(4, y + i, key, Ink::ACCENT.bold());
                    page.put(9, y + i, words, Ink::PLAIN);
                }
                frame::bar(page, Place::Confirm);
            }
        }
    }
}

fn verdict(tree: &Tree, end: NodeId) -> String {
    let verdict = tree.node(end).and_then(|n| n.verdict);
    verdict.map_or_else(
        || "no verdict".to_owned(),
        |v| format!("{v} {}", tree::Verdict::words(v)),
    )
}

fn used(entry: &Entry) -> String {
    let used = text::clock(entry.sitting.used_ms());
    match entry.sitting.attempt().opened().budget_ms {
        Some(budget) => format!("Clock used: {used} of {}", text::clock(budget)),
        None => format!("Clock used: {used}"),
    }
}

/// A text in spaced letters in a box.
fn boxed(page: &mut Page, (x, y): (usize, usize), words: &str) {
    let spaced: Vec<String> = text::safe(words).chars().map(String::from).collect();
    let spaced = spaced.join(" ");
    let rule = "-".repeat(text::width(&spaced) + 6);
    let gap = " ".repeat(text::width(&spaced) + 6);
    page.put(x, y, &format!("+{rule}+"), Ink::PLAIN);
    page.put(x, y + 1, &format!("|{gap}|"), Ink::PLAIN);
    page.put(x, y + 2, &format!("|   {spaced}   |"), Ink::PLAIN.bold());
    page.put(x, y + 3, &format!("|{gap}|"), Ink::PLAIN);
    page.put(x, y + 4, &format!("+{rule}+"), Ink::PLAIN);
}

/// The last move of a line: always the first move that stands.
fn end_of_line(tree: &Tree, from: NodeId) -> NodeId {
    let mut at = from;
    while let Some(next) = tree.standing(at).next() {
        at = next;
    }
    at
}
