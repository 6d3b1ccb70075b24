//! What a coach has set, for the home screen and for the next file to him.

use std::sync::Arc;

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::app::attempts::homework::{HomeworkTask, tasks};
use crate::app::attempts::repository::AttemptRepository;
use crate::app::{AppError, AttemptId, Clock, Subject};
use crate::attempt::{Attempt, Origin};
use crate::coach::collection::HandedTask;

/// The positions that coaches set.
#[derive(Clone)]
pub struct HomeworkService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) clock: Arc<dyn Clock>,
}

impl HomeworkService {
    /// All of them, what is due first at the top.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn all(&self) -> Result<Vec<HomeworkTask>, AppError> {
        tasks(self.repository.store())
    }

    /// Those that are not done.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn open(&self) -> Result<Vec<HomeworkTask>, AppError> {
        let mut tasks = self.all()?;
        tasks.retain(|t| t.done.is_none());
        Ok(tasks)
    }

    /// The position that is due first and not done.
    ///
    /// # Errors
    /// There is none, or the store cannot be read.
    pub fn next(&self) -> Result<Subject, AppError> {
        let open = self.open()?;
        open.first().ok_or(AppError::NoHomework)?.subject()
    }

    /// What was written to tasks and has not gone out yet.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn unsent(&self) -> Result<Vec<AttemptId>, AppError> {
        let mut unsent = Vec::new();
        for done in self.all()?.into_iter().filter_map(|t| t.done) {
            let attempt = self.repository.readable_attempt(&done.attempt)?;
            // Nothing of a coach is in it: it never went out.
            if attempt.is_some_and(|a| a.coached().is_none()) && !unsent.contains(&done.attempt) {
                unsent.push(done.attempt);
            }
        }
        Ok(unsent)
    }

    /// What a file to the coach says of it: each task once it is done, and those that are not.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn sentences(&self, zone: &TimeZone) -> Result<Vec<String>, AppError> {
        Ok(self.all()?.iter().map(|t| t.sentence(zone)).collect())
    }

    /// Keeps positions that a coach handed out, all in one step; for each whether it, its day or its words are new.
    ///
    /// # Errors
    /// They could not be kept.
    pub fn set(&self, tasks: &[(String, HandedTask)]) -> Result<Vec<bool>, AppError> {
        let (store, set_ms) = (self.repository.store(), self.clock.wall_ms());
        let mut step = self.repository.step();
        let mut new = Vec::with_capacity(tasks.len());
        for (by, task) in tasks {
            let task = HomeworkTask::handed_out(by, set_ms, task);
            new.push(step.set_handed_out(store, task)?);
        }
        step.keep()?;
        Ok(new)
    }

    /// What the coach says of an attempt at homework that is not done yet: 'Bram Oskarn: find the move.' Empty where he
    /// said nothing, or it is none.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn said_of(&self, attempt: &Attempt) -> Result<String, AppError> {
        let Origin::Homework { by } = &attempt.opened().origin else {
            return Ok(String::new());
        };
        let open = self.open()?;
        let task = open.iter().find(|t| t.by == *by && t.is_at(attempt));
        let words = task.map(|t| t.words.trim()).filter(|w| !w.is_empty());
        Ok(words.map_or_else(String::new, |words| format!("{by}: {words}")))
    }

    /// The day by the clock.
    #[must_use]
    pub fn today(&self, zone: &TimeZone) -> Date {
        let now = Timestamp::from_millisecond(self.clock.wall_ms());
        now.unwrap_or_default().to_zoned(zone.clone()).date()
    }
}
