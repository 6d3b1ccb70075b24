//! The experiment that a player makes with his own practice: drawn, kept, told.

use std::collections::hash_map::RandomState;
use std::hash::{BuildHasher, Hasher};
use std::sync::Arc;

use jiff::tz::TimeZone;

use crate::app::attempts::repository::AttemptRepository;
use crate::app::{AppError, Clock};
use crate::progress::AttemptStatistics;
use crate::progress::experiment::{self, Experiment, ExperimentReport, GameMisses};
use crate::text::{capital, list};

/// Draws experiments and tells what they have come to.
#[derive(Clone)]
pub struct ExperimentService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) clock: Arc<dyn Clock>,
}

impl ExperimentService {
    /// All that were ever begun, in the order of time.
    fn all(&self) -> Result<Vec<(String, Experiment)>, AppError> {
        Ok(self.repository.store().scan()?)
    }

    /// The one that goes on now.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn running(&self) -> Result<Option<Experiment>, AppError> {
        let now_ms = self.clock.wall_ms();
        let last = self.all()?.pop().map(|(_, experiment)| experiment);
        Ok(last.filter(|e| e.is_running(now_ms)))
    }

    /// Draws a new one and keeps it: from then on it cannot be changed. `seed` is for tests; without it the draw is of this moment.
    ///
    /// # Errors
    /// One goes on already, it cannot be about these habits or last so long, or it could not be kept.
    pub fn start(
        &self,
        habits: &[String],
        weeks: u32,
        seed: Option<u64>,
    ) -> Result<Experiment, AppError> {
        if let Some(running) = self.running()? {
            return Err(AppError::ExperimentRuns(running.weeks));
        }
        let now_ms = self.clock.wall_ms();
        // The standard library's keys of hash tables are drawn by the system for each process.
        let seed = seed.unwrap_or_else(|| RandomState::new().build_hasher().finish());
        let drawn = Experiment::draw(now_ms, weeks, habits, seed)?;
        let (name, _) = self.repository.fresh_name::<Experiment>(now_ms, 0)?;
        self.repository.put(&name, &drawn)?;
        Ok(drawn)
    }

    /// Gives the one that goes on up. It stays as it was, and is not tested.
    ///
    /// # Errors
    /// None goes on, or it could not be kept.
    pub fn stop(&self) -> Result<(), AppError> {
        let now_ms = self.clock.wall_ms();
        let last = self.all()?.pop();
        let Some((name, mut experiment)) = last.filter(|(_, e)| e.is_running(now_ms)) else {
            return Err(AppError::NoExperiment);
        };
        experiment.stopped_ms = Some(now_ms);
        self.repository.put(&name, &experiment)
    }

    /// What the last one has come to; `None` where there was none.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn report(&self, zone: &TimeZone) -> Result<Option<ExperimentReport>, AppError> {
        let mut all = self.all()?;
        let Some((_, last)) = all.pop() else {
            return Ok(None);
        };
        let index = self.repository.index()?;
        let attempts: Vec<&AttemptStatistics> = index.statistics.values().collect();
        let games: Vec<GameMisses> = self.repository.scan()?;
        let series = experiment::measured(&last, &attempts, &games);
        let now_ms = self.clock.wall_ms();
        let report = experiment::report(&last, &series, now_ms, all.len(), zone);
        Ok(Some(report))
    }

    /// What the home screen says while one goes on: 'Experiment, week 5 of 16. Your block: look once more for moves backward.'
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn sentence(&self) -> Result<Option<String>, AppError> {
        let now_ms = self.clock.wall_ms();
        let Some(running) = self.running()? else {
            return Ok(None);
        };
        let week = running.week_of(now_ms).unwrap_or_default() + 1;
        let practised = running.practised(now_ms);
        let practised: Vec<&str> = practised.iter().map(|f| f.words()).collect();
        let words = match practised.is_empty() {
            true => "practise as ever; the blocks begin by draw".to_owned(),
            false => format!("before you decide, look once more for {}", list(&practised)),
        };
        let weeks = running.weeks;
        Ok(Some(format!(
            "Experiment, week {week} of {weeks}. {}.",
            capital(&words)
        )))
    }
}
