//! Positions that a coach set as homework, and whether they were done.

use jiff::civil::Date;
use jiff::{Timestamp, tz::TimeZone};
use serde::{Deserialize, Serialize};

use crate::app::attempts::records::{AttemptId, root_of};
use crate::app::attempts::repository::Step;
use crate::app::{AppError, Subject};
use crate::attempt::{Attempt, past_as_uci};
use crate::board::{Line, PositionKey, line};
use crate::coach::collection::HandedTask;
use crate::coach::{Assignment, TASK};
use crate::store::{Record, Store};
use crate::text::ended;

/// One position that is to be written on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HomeworkTask {
    /// The coach; may come from a file.
    pub by: String,
    /// When it came in, milliseconds since 1970-01-01 UTC.
    pub set_ms: i64,
    /// The day by which it is to be done, as ISO 8601 writes it.
    pub due: Option<String>,
    /// What to do, in the coach's words; may be empty, may come from a file.
    pub words: String,
    /// The attempt on which he set it; `None` for a position that he handed out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<AttemptId>,
    /// What the file was called with which he handed it out, and the number of the position in it; may come from a
    /// file.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handed_out: Option<HandedOut>,
    /// Moves of that attempt's tree to the position, in SAN.
    pub path: Vec<String>,
    /// The position in which the known moves start, as FEN, and the moves from there in UCI notation.
    start_fen: String,
    past: Vec<String>,
    root: PositionKey,
    /// The first attempt at the position that was locked after it was set.
    pub done: Option<HomeworkDone>,
}

/// Where in a coach's file a position stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HandedOut {
    /// May be empty.
    pub name: String,
    pub number: Option<u32>,
}

/// What was written to a task.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HomeworkDone {
    pub attempt: AttemptId,
    /// When it was opened, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
}

impl Record for HomeworkTask {
    const TABLE: &'static str = "homework";
    const VERSION: u32 = 1;
}

impl HomeworkTask {
    /// A task at a place of an attempt's tree, with what coaches added to it.
    fn new(of: &AttemptId, by: &str, set_ms: i64, at: &Line, set: &Assignment) -> Self {
        Self {
            by: by.to_owned(),
            set_ms,
            due: set.due.clone(),
            words: set.words.clone(),
            of: Some(of.clone()),
            handed_out: None,
            path: set.path.clone(),
            start_fen: line::fen(at.start()),
            past: past_as_uci(&at.clone().rooted_here()),
            root: PositionKey::of(at.position()),
            done: None,
        }
    }

    /// A position that a coach handed out.
    pub(crate) fn handed_out(by: &str, set_ms: i64, task: &HandedTask) -> Self {
        Self {
            by: by.to_owned(),
            set_ms,
            due: task.due.map(|d| d.to_string()),
            words: task.words.clone(),
            of: None,
            handed_out: Some(HandedOut {
                name: task.name.clone(),
                number: task.number,
            }),
            path: Vec::new(),
            start_fen: line::fen(task.root.position()),
            past: Vec::new(),
            root: PositionKey::of(task.root.position()),
            done: None,
        }
    }

    /// Under which it is kept where he handed it out: the same coach and position is the same task.
    pub(crate) fn key_of_handed_out(&self) -> String {
        let by = crc32fast::hash(self.by.as_bytes());
        format!("handed-out-{by:08x}-{}", self.root)
    }

    /// What to write on.
    ///
    /// # Errors
    /// What is kept is no position: the record is damaged.
    pub fn subject(&self) -> Result<Subject, AppError> {
        let line = line::replay(&self.start_fen, &self.past).map_err(AppError::Line)?;
        Ok(Subject::Homework {
            by: self.by.clone(),
            line: line.rooted_here(),
        })
    }

    /// Whether an attempt is at its position.
    #[must_use]
    pub fn is_at(&self, attempt: &Attempt) -> bool {
        self.root == root_of(attempt)
    }

    /// Whether the day by which it is to be done has passed.
    #[must_use]
    pub fn is_late(&self, today: Date) -> bool {
        let due = self.due.as_ref().and_then(|d| d.parse::<Date>().ok());
        self.done.is_none() && due.is_some_and(|due| due < today)
    }

    /// 'Task of 2026-11-27, by 2026-12-05, after c7 Rd6+: find it. Done on 2026-11-29, attempt 1790.'
    #[must_use]
    pub fn sentence(&self, zone: &TimeZone) -> String {
        let due = self.due.as_ref().map(|due| tr!(", by {due}"));
        let words = match self.words.trim() {
            "" => ".".to_owned(),
            words => format!(": {}", ended(words)),
        };
        let done = match &self.done {
            Some(done) => tr!(
                "Done on {}, attempt {}.",
                day(done.wall_ms, zone),
                done.attempt
            ),
            None => tr!("Not done.").to_owned(),
        };
        let (set, due) = (day(self.set_ms, zone), due.unwrap_or_default());
        format!("{TASK}{set}{due}, {}{words} {done}", self.place())
    }

    /// 'after c7 Rd6+', 'in the position', or 'position 3 of Autumn'.
    #[must_use]
    pub fn place(&self) -> String {
        if let Some(handed_out) = &self.handed_out {
            return handed_out.words();
        }
        match self.path.as_slice() {
            [] => tr!("in the position").to_owned(),
            path => tr!("after {}", path.join(" ")),
        }
    }
}

impl HandedOut {
    /// 'position 3 of Autumn'.
    #[must_use]
    pub fn words(&self) -> String {
        let number = self.number.map(|n| format!(" {n}")).unwrap_or_default();
        match self.name.trim() {
            "" => tr!("position{number}"),
            name => tr!("position{number} of {name}"),
        }
    }
}

fn day(wall_ms: i64, zone: &TimeZone) -> String {
    Timestamp::from_millisecond(wall_ms).map_or_else(
        |_| tr!("an unknown day").to_owned(),
        |at| at.to_zoned(zone.clone()).date().to_string(),
    )
}

/// All tasks, the one that is due first at the top, those without a day behind them in the order in which they were
/// set, and of what was handed out together in the order of the file.
pub(crate) fn tasks(store: &Store) -> Result<Vec<HomeworkTask>, AppError> {
    let mut tasks: Vec<HomeworkTask> = store.scan()?.into_iter().map(|(_, task)| task).collect();
    tasks.sort_by(|a, b| {
        let number = |t: &HomeworkTask| t.handed_out.as_ref().and_then(|h| h.number);
        let key = |t: &HomeworkTask| (t.due.is_none(), t.due.clone(), t.set_ms, number(t));
        key(a).cmp(&key(b))
    });
    Ok(tasks)
}

impl Step<'_> {
    /// A coach set positions of an attempt as homework. One that was set before gets the new day and words, and stays
    /// done where it is.
    pub(crate) fn set_homework(
        &mut self,
        store: &Store,
        of: &AttemptId,
        attempt: &Attempt,
        (by, set_ms, tasks): (&str, i64, &[Assignment]),
    ) -> Result<(), AppError> {
        let tree = attempt.coached().map_or(attempt.tree(), |c| c.tree());
        for set in tasks {
            // The coach's room has looked that there is a position.
            let Some(at) = tree.line(set.node) else {
                continue;
            };
            let key = format!("{of}-{}", set.node.0);
            let mut task = HomeworkTask::new(of, by, set_ms, &at, set);
            if let Some(old) = store.get::<HomeworkTask>(&key)? {
                task.set_ms = old.set_ms;
                task.done = old.done;
            }
            self.put(&key, &task)?;
        }
        Ok(())
    }

    /// A coach handed out a position. One that he set before gets the new day and words, and stays done where it is;
    /// false where nothing is new.
    pub(crate) fn set_handed_out(
        &mut self,
        store: &Store,
        task: HomeworkTask,
    ) -> Result<bool, AppError> {
        let key = task.key_of_handed_out();
        let old = store.get::<HomeworkTask>(&key)?;
        let task = match &old {
            Some(old) => HomeworkTask {
                set_ms: old.set_ms,
                done: old.done.clone(),
                ..task
            },
            None => task,
        };
        let is_new = old.as_ref() != Some(&task);
        if is_new {
            self.put(&key, &task)?;
        }
        Ok(is_new)
    }

    /// A locked attempt does what was set at its position before.
    pub(crate) fn hand_in(
        &mut self,
        store: &Store,
        id: &AttemptId,
        attempt: &Attempt,
    ) -> Result<(), AppError> {
        let (root, wall_ms) = (root_of(attempt), attempt.opened().wall_ms);
        for (key, mut task) in store.scan::<HomeworkTask>()? {
            if task.done.is_none() && task.root == root && wall_ms >= task.set_ms {
                let attempt = id.clone();
                task.done = Some(HomeworkDone { attempt, wall_ms });
                self.put(&key, &task)?;
            }
        }
        Ok(())
    }
}
