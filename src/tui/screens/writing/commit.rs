//! The commit: the choice in large letters, the verdict at its end, and one question.
//!
//! The questions are the same whatever was written, so that they give nothing away.

use std::collections::HashSet;

use super::locked::Locked;
use crate::app::Piece;
use crate::attempt::{EndCard, Material, Mover, PLAN_MAX};
use crate::tree::{NodeId, Tree, Verdict};
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::labels;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::writing::screen::Entry;
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;
use crate::tui::widgets::line_editor::EntryLine;
use crate::tui::widgets::variation_tree::{TreeView, as_typed, unmarked};
use crate::{text, tree};

/// The tree before its lock.
pub struct Commit {
    pub(crate) entry: Entry,
    /// The last move of the choice's line.
    end: NodeId,
    step: Step,
    /// How far the tree beside it is scrolled, in moves.
    scrolled: usize,
    answer: Option<Answer>,
}

/// What the end card asks, in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ask {
    Mover,
    Material,
    Plan,
}

enum Step {
    /// The verdict at the end of the choice's line is typed.
    EndVerdict(EntryLine),
    /// One question about the board at the end of that line.
    Card(Ask, EndCard, EntryLine),
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
            .end_of_choice()
            .unwrap_or(NodeId::ROOT);
        let judged = tree.node(end).is_some_and(|n| n.verdict.is_some());
        Self {
            entry,
            end,
            step: if judged {
                Step::Confirm
            } else {
                Step::EndVerdict(EntryLine::default())
            },
            scrolled: 0,
            answer: None,
        }
    }

    fn places(&self) -> &'static [Place] {
        match self.step {
            Step::EndVerdict(_) | Step::Card(..) => &[Place::EndVerdict, Place::Line],
            Step::Confirm => &[Place::Confirm],
        }
    }

    pub fn press(mut self, key: Key) -> Next {
        self.answer = None;
        let run = bindings::find(self.places(), key);
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
            Some(Do::EndCard) => {
                let card = EndCard::new(self.end);
                self.step = Step::Card(Ask::Mover, card, EntryLine::default());
            }
            Some(Do::Up) => self.scrolled = self.scrolled.saturating_sub(1),
            Some(Do::Down) => {
                let last = self.entry.sitting.tree().len().saturating_sub(1);
                self.scrolled = (self.scrolled + 1).min(last);
            }
            Some(Do::Open) => self.submit(),
            Some(_) | None => self.type_verdict(run, key),
        }
        Next::Stay(Screen::Commit(Box::new(self)))
    }

    fn type_verdict(&mut self, run: Option<Do>, key: Key) {
        if let Step::EndVerdict(line) | Step::Card(_, _, line) = &mut self.step {
            match (run, key) {
                (Some(Do::Edit(edit)), _) => line.edit(edit),
                (None, Key::Char(c)) => line.insert(c),
                _ => {}
            }
        }
    }

    fn submit(&mut self) {
        if let Step::Card(..) = self.step {
            return self.submit_card();
        }
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

    /// One answer of the card, then the next question; an empty line leaves it open.
    fn submit_card(&mut self) {
        let Step::Card(ask, card, line) = &mut self.step else {
            return;
        };
        let said = line.text().trim().to_owned();
        if let Err(words) = state(card, *ask, &said) {
            line.mark(0..line.text().len());
            self.answer = Some(Answer::Alert(words));
            return;
        }
        let next = ask.next();
        let card = card.clone();
        match next {
            Some(next) => self.step = Step::Card(next, card, EntryLine::default()),
            None => match self.entry.sitting.state_end(card) {
                Ok(()) => self.step = Step::Confirm,
                Err(error) => self.answer = Some(Answer::error(&error)),
            },
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

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        let sitting = &self.entry.sitting;
        let clock = labels::clock(sitting.left_ms(), sitting.used_ms());
        let turn = labels::side(sitting.tree().root().player());
        let title = format!("{}: {turn} to move", self.entry.label);
        chrome::title(page, &title, &clock);
        let choice = sitting
            .attempt()
            .choice()
            .and_then(|c| sitting.tree().node(c));
        let choice = choice.map_or("", |n| n.text.as_str());
        page.put(2, 2, "Your choice", Ink::QUIET);
        boxed(page, (2, 3), choice);
        page.put(2, 8, &used(&self.entry), Ink::PLAIN);
        self.draw_tree(page, desk);
        self.draw_step(page);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 3);
        }
    }

    /// The whole tree once more, on the right.
    fn draw_tree(&self, page: &mut Page, desk: &Desk) {
        let sitting = &self.entry.sitting;
        let x = left_width(page) + 2;
        page.put(x + 2, 2, "Your tree, as it will stand", Ink::QUIET);
        let at = sitting.tree().nodes().nth(self.scrolled).map(|(id, _)| id);
        let view = TreeView {
            tree: sitting.tree(),
            choice: sitting.attempt().choice(),
            cursor: at.filter(|_| self.scrolled > 0),
            candidates_only: false,
            folded: &HashSet::new(),
            mark: &unmarked,
            ascii: desk.glyphs.ascii,
        };
        let (width, height) = (page.width() - x, page.height().saturating_sub(7));
        view.draw(page, (x, 3, width, height));
    }

    fn draw_step(&self, page: &mut Page) {
        let tree = self.entry.sitting.tree();
        let line = text::safe(&as_typed(tree, self.end).join(" ")).into_owned();
        let (width, bottom) = (left_width(page) - 2, page.height());
        let put = |page: &mut Page, y, words: &str, ink| {
            page.put_wrapped(
                (2, y, width, bottom.saturating_sub(y + 3).min(8)),
                words,
                ink,
            )
        };
        match &self.step {
            Step::EndVerdict(typed) => {
                let words = format!("How do you judge the end of {line}?");
                let y = put(page, 10, &words, Ink::PLAIN);
                put(page, y + 1, SIGNS, Ink::QUIET);
                chrome::entry_line(page, bottom - 2, "verdict >", typed);
                chrome::bar(page, Place::EndVerdict);
            }
            Step::Card(ask, card, typed) => {
                let words = format!("See the board at the end of {line}.");
                let y = put(page, 10, &words, Ink::QUIET);
                let y = put(page, y + 1, &said(card), Ink::PLAIN);
                put(page, y, ask.words(), Ink::PLAIN);
                chrome::entry_line(page, bottom - 2, ask.prompt(), typed);
                chrome::bar(page, Place::EndVerdict);
            }
            Step::Confirm => {
                let words = format!("At the end of {line}: {}.", verdict(tree, self.end));
                let mut y = put(page, 10, &words, Ink::PLAIN);
                if let Some(card) = self.entry.sitting.attempt().end_card() {
                    y = put(page, y, &said(card), Ink::PLAIN);
                }
                y += 1;
                for (key, words) in QUESTIONS {
                    page.put(2, y, key, Ink::ACCENT.bold());
                    let area = (6, y, width - 4, 3);
                    y = page.put_wrapped(area, words, Ink::PLAIN);
                }
                chrome::bar(page, Place::Confirm);
            }
        }
    }
}

pub const SIGNS: &str = "= level, +/= +/- +- White is better, clearly better, winning, =/+ -/+ -+ the \
                     same for Black, 65% what you expect to score, ~ unclear. Enter alone leaves it open.";

const QUESTIONS: [(&str, &str); 4] = [
    ("n", "Write one more reply"),
    ("e", "Say who moves at the end, the material and your plan"),
    (
        "y",
        "Lock the tree: it is final from then on and cannot be taken back",
    ),
    ("Esc", "Back"),
];

impl Ask {
    /// The question after this one.
    #[must_use]
    pub fn next(self) -> Option<Self> {
        match self {
            Self::Mover => Some(Self::Material),
            Self::Material => Some(Self::Plan),
            Self::Plan => None,
        }
    }

    fn prompt(self) -> &'static str {
        match self {
            Self::Mover => "who moves >",
            Self::Material => "material >",
            Self::Plan => "plan >",
        }
    }

    pub fn words(self) -> &'static str {
        match self {
            Self::Mover => "Who is to move there? 'me' or 'him'. Enter alone leaves it open.",
            Self::Material => {
                "How does the material stand, from your side? '=', '+1', 'pawn up', 'exchange down'. \
                 Enter alone leaves it open."
            }
            Self::Plan => "What would you do then? One sentence. Enter alone leaves it open.",
        }
    }
}

/// Puts one answer on the card; an empty one leaves it open.
pub fn state(card: &mut EndCard, ask: Ask, said: &str) -> Result<(), String> {
    if said.is_empty() {
        return Ok(());
    }
    match ask {
        Ask::Mover => {
            let mover = Mover::read(&said.to_lowercase());
            card.mover = Some(mover.ok_or("Say 'me' or 'him'.")?);
        }
        Ask::Material => {
            let material = Material::parse(said).map_err(|e| e.to_string())?;
            card.material = Some(material);
        }
        Ask::Plan => card.plan = said.chars().take(PLAN_MAX).collect(),
    }
    Ok(())
}

/// The card in words, as far as it is filled in.
pub fn said(card: &EndCard) -> String {
    let mover = card.mover.map(|m| match m {
        Mover::Me => "You are to move.".to_owned(),
        Mover::Him => "He is to move.".to_owned(),
    });
    let material = card.material.as_ref().map(|m| format!("Material: {m}."));
    let plan = (!card.plan.is_empty()).then(|| format!("Plan: {}", card.plan));
    let parts: Vec<String> = mover.into_iter().chain(material).chain(plan).collect();
    text::safe(&parts.join(" ")).into_owned()
}

/// Columns of the left half.
fn left_width(page: &Page) -> usize {
    page.width() / 2 - 2
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
