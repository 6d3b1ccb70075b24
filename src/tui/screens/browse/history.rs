//! All locked attempts, the newest first.

use crate::app::{AppError, SittingId, Subject, Summary};
use crate::attempt::Origin;
use crate::text;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::labels;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::browse::blind_spots::HabitsScreen;
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::screens::review::pending::Waiting;
use crate::tui::screens::writing::locked::Locked;
use crate::tui::screens::writing::preview::Look;
use crate::tui::widgets::canvas::{Hit, Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;
use crate::tui::widgets::line_editor::EntryLine;
use crate::tui::widgets::list::List;

use shakmaty::Color;

/// The list.
pub struct HistoryScreen {
    every: Vec<(SittingId, Summary)>,
    /// Those that the filter lets through.
    all: Vec<(SittingId, Summary)>,
    filter: EntryLine,
    filtering: bool,
    list: List,
    answer: Option<Answer>,
}

impl HistoryScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(desk: &Desk) -> Result<Screen, AppError> {
        let every = desk.app.attempts().history()?;
        Ok(Screen::History(Self {
            all: every.clone(),
            every,
            filter: EntryLine::default(),
            filtering: false,
            list: List::default(),
            answer: None,
        }))
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        self.answer = None;
        if self.filtering {
            return self.type_filter(key, desk);
        }
        match bindings::find(&[Place::History], key) {
            Some(Do::Back) => return Next::Back,
            Some(Do::Help) => {
                return Next::Over(Screen::History(self), HelpScreen::of(&[Place::History]));
            }
            Some(Do::Open) => return self.show(desk),
            Some(Do::Filter) => self.filtering = true,
            Some(Do::Again) => return self.again(desk),
            Some(Do::ForCoach) => self.for_coach(desk),
            Some(Do::Habits) => return self.habits(desk),
            Some(run) => self.list.walk(run, self.all.len()),
            None => {}
        }
        Next::Stay(Screen::History(self))
    }

    /// The list follows what is typed.
    fn type_filter(mut self, key: Key, desk: &Desk) -> Next {
        let places = &[Place::Filter, Place::Line];
        match (bindings::find(places, key), key) {
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
        self.sift(desk);
        Next::Stay(Screen::History(self))
    }

    /// Lists again what the filter lets through.
    fn sift(&mut self, desk: &Desk) {
        let wanted = self.filter.text().to_lowercase();
        let holds = |summary: &Summary| {
            let line = format!("{} {}", line(desk, summary), beside(summary)).to_lowercase();
            let line = line.replace("not reviewed yet", "not reviewed yet unreviewed");
            wanted.split_whitespace().all(|word| line.contains(word))
        };
        let held = self.every.iter().filter(|(_, s)| holds(s));
        self.all = held.cloned().collect();
        self.list.keep_within(self.all.len());
    }

    /// It is seen again: what was reviewed meanwhile is told so.
    pub fn refresh(&mut self, desk: &Desk) {
        match desk.app.attempts().history() {
            Ok(every) => {
                self.every = every;
                self.sift(desk);
            }
            Err(error) => self.answer = Some(Answer::error(&error)),
        }
    }

    /// Writes the marked attempt to a file for the coach.
    fn for_coach(&mut self, desk: &Desk) {
        let Some((id, _)) = self.all.get(self.list.at()) else {
            return;
        };
        self.answer = Some(match desk.app.coach().send_to_coach(id) {
            Ok(file) => Answer::Quiet(labels::for_coach(&file)),
            Err(error) => Answer::error(&error),
        });
    }

    /// What he misses more often than his other moves.
    fn habits(mut self, desk: &Desk) -> Next {
        match HabitsScreen::open(desk) {
            Ok(screen) => Next::Over(Screen::History(self), screen),
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::History(self))
            }
        }
    }

    /// The marked position once more.
    fn again(mut self, desk: &Desk) -> Next {
        let Some((id, summary)) = self.all.get(self.list.at()).cloned() else {
            return Next::Stay(Screen::History(self));
        };
        let opened = match &summary.origin {
            Origin::Drill(drill) => Look::open(desk, &Subject::Drill(drill.clone())),
            _ => desk.app.attempts().attempt(&id).and_then(|attempt| {
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
            Hit::Item(item) if item == self.list.at() => return self.show(desk),
            Hit::Item(item) if item < self.all.len() => self.list.go(item),
            _ => {}
        }
        Next::Stay(Screen::History(self))
    }

    fn show(mut self, desk: &Desk) -> Next {
        let Some((id, summary)) = self.all.get(self.list.at()).cloned() else {
            return Next::Stay(Screen::History(self));
        };
        let label = labels::origin(&desk.app, &summary.origin);
        match desk.app.attempts().locked(&id) {
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
        chrome::title(page, "Attempts", &count);
        if self.every.is_empty() {
            page.put(2, 3, "No attempt is locked yet.", Ink::QUIET);
        }
        page.put(2, 2, &columns(&HEAD), Ink::QUIET);
        let rows = page.height().saturating_sub(7);
        if let Some((_, marked)) = self.all.get(self.list.at()) {
            page.put(2, page.height() - 3, &beside(marked), Ink::QUIET);
        }
        let line = |i: usize| {
            self.all
                .get(i)
                .map_or_else(String::new, |(_, s)| line(desk, s))
        };
        let area = (0, 3, page.width(), rows);
        self.list.draw(page, area, self.all.len(), &line);
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 2);
        }
        if self.filtering {
            chrome::entry_line(page, page.height() - 2, "with the words >", &self.filter);
            chrome::bar(page, Place::Filter);
        } else {
            chrome::bar(page, Place::History);
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
        labels::date(summary.wall_ms, &desk.zone),
        labels::origin(&desk.app, &summary.origin),
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
fn beside(summary: &Summary) -> String {
    let side = summary.black.map(|black| {
        let color = if black { Color::Black } else { Color::White };
        format!("{} to move.", labels::side(color))
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
