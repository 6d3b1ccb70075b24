//! All locked attempts, the newest first.

use super::command::{self, Do, Place};
use super::entry_line::EntryLine;
use super::frame::{self, Answer};
use super::help::HelpScreen;
use super::key::Key;
use super::locked::Locked;
use super::look::Look;
use super::model::{Desk, Next, Screen};
use super::page::{Hit, Ink, Page};
use super::waiting::Waiting;
use super::words;
use crate::app::{AppError, SittingId, Subject, Summary};
use crate::attempt::Origin;
use crate::text;

/// The list.
pub struct HistoryScreen {
    every: Vec<(SittingId, Summary)>,
    /// Those that the filter lets through.
    all: Vec<(SittingId, Summary)>,
    filter: EntryLine,
    filtering: bool,
    at: usize,
    answer: Option<Answer>,
}

/// Rows of a page.
const PAGE: usize = 15;

impl HistoryScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(desk: &Desk) -> Result<Screen, AppError> {
        let every = desk.app.history()?;
        Ok(Screen::History(Self {
            all: every.clone(),
            every,
            filter: EntryLine::default(),
            filtering: false,
            at: 0,
            answer: None,
        }))
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        self.answer = None;
        if self.filtering {
            return self.type_filter(key, desk);
        }
        let last = self.all.len().saturating_sub(1);
        match command::find(&[Place::History], key) {
            Some(Do::Back) => return Next::Back,
            Some(Do::Help) => {
                return Next::Over(Screen::History(self), HelpScreen::of(&[Place::History]));
            }
            Some(Do::Open) => return self.show(desk),
            Some(Do::Filter) => self.filtering = true,
            Some(Do::Again) => return self.again(desk),
            Some(Do::Up) => self.at = self.at.saturating_sub(1),
            Some(Do::Down) => self.at = (self.at + 1).min(last),
            Some(Do::PageUp) => self.at = self.at.saturating_sub(PAGE),
            Some(Do::PageDown) => self.at = (self.at + PAGE).min(last),
            _ => {}
        }
        Next::Stay(Screen::History(self))
    }

    /// The list follows what is typed.
    fn type_filter(mut self, key: Key, desk: &Desk) -> Next {
        let places = &[Place::Filter, Place::Line];
        match (command::find(places, key), key) {
            (Some(Do::Help), _) => {
                return Next::Over(Screen::History(self), HelpScreen::of(places));
            }
            (Some(Do::Open), _) => self.filtering = false,
            (Some(Do::Back), _) => {
                self.filtering = false;
                self.filter.set("");
            }
            (Some(Do::Edit(edit)), _) => self.filter.edit(edit),
            (None, Key::Char(c)) => self.filter.insert(c),
            _ => {}
        }
        let wanted = self.filter.text().to_lowercase();
        let holds = |summary: &Summary| {
            let line = line(desk, summary).to_lowercase();
            let line = line.replace("not reviewed yet", "not reviewed yet unreviewed");
            wanted.split_whitespace().all(|word| line.contains(word))
        };
        self.all = self
            .every
            .iter()
            .filter(|(_, s)| holds(s))
            .cloned()
            .collect();
        self.at = self.at.min(self.all.len().saturating_sub(1));
        Next::Stay(Screen::History(self))
    }

    /// The marked position once more.
    fn again(mut self, desk: &Desk) -> Next {
        let Some((id, summary)) = self.all.get(self.at).cloned() else {
            return Next::Stay(Screen::History(self));
        };
        let opened = match &summary.origin {
            Origin::Drill(drill) => Look::open(desk, &Subject::Drill(drill.clone())),
            _ => desk.app.attempt(&id).and_then(|attempt| {
                let root = attempt.tree().root().clone();
                Look::open(desk, &Subject::Position(root))
            }),
        };
        match opened {
            Ok(look) => Next::Over(Screen::History(self), look),
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::History(self))
            }
        }
    }

    /// A click marks; a click on what is marked opens it.
    pub fn click(mut self, hit: Hit, desk: &Desk) -> Next {
        match hit {
            Hit::Item(item) if item == self.at => return self.show(desk),
            Hit::Item(item) if item < self.all.len() => self.at = item,
            _ => {}
        }
        Next::Stay(Screen::History(self))
    }

    fn show(mut self, desk: &Desk) -> Next {
        let Some((id, summary)) = self.all.get(self.at).cloned() else {
            return Next::Stay(Screen::History(self));
        };
        let label = words::origin(&desk.app, &summary.origin);
        match desk.app.locked(&id) {
            Ok(sitting) => {
                let locked = Locked::new(sitting, label.clone());
                let next = if locked.asks() {
                    Screen::Locked(Box::new(locked))
                } else {
                    Waiting::begin(desk, id, label)
                };
                Next::Over(Screen::History(self), next)
            }
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::History(self))
            }
        }
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        let count = match (self.all.len(), self.every.len()) {
            (shown, all) if shown == all => format!("{all} in all"),
            (shown, all) => format!("{shown} of {all}"),
        };
        frame::title(page, "Attempts", &count);
        if self.every.is_empty() {
            page.put(2, 3, "No attempt is locked yet.", Ink::QUIET);
        }
        page.put(2, 2, &columns(&HEAD), Ink::QUIET);
        let rows = page.height().saturating_sub(6);
        let skipped = self
            .at
            .saturating_sub(rows / 2)
            .min(self.all.len().saturating_sub(rows));
        for (i, (_, summary)) in self.all.iter().enumerate().skip(skipped).take(rows) {
            let y = 3 + i - skipped;
            let marked = i == self.at;
            let line = line(desk, summary);
            let line = text::fit(&line, page.width() - 2);
            page.put(0, y, if marked { ">" } else { " " }, Ink::ACCENT.bold());
            page.put(2, y, &line, Ink::PLAIN.turned(marked));
            page.hit(0, y, page.width(), 1, Hit::Item(i));
        }
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 2);
        }
        if self.filtering {
            frame::entry_line(page, page.height() - 2, "with the words >", &self.filter);
            frame::bar(page, Place::Filter);
        } else {
            frame::bar(page, Place::History);
        }
    }
}

/// Column heads and rows of the list, in the same widths.
const HEAD: [&str; 9] = [
    "date", "position", "time", "chosen", "findings", "effect", "needed", "reached", "sound",
];

/// One attempt in one line. Effect is in expected score, depths in half-moves.
fn line(desk: &Desk, summary: &Summary) -> String {
    let front = [
        words::date(summary.wall_ms, &desk.zone),
        words::origin(&desk.app, &summary.origin),
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
