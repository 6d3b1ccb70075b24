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
            true => tr!("practise as ever; the blocks begin by draw").to_owned(),
            false => tr!("before you decide, look once more for {}", list(&practised)),
        };
        let weeks = running.weeks;
        Ok(Some(tr!(
            "Experiment, week {week} of {weeks}. {}.",
            capital(&words)
        )))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::Subject;
    use crate::app::attempts::session::EntryToken;
    use crate::app::testing::app::{Counting, Trial, drill};
    use crate::attempt::BoardVisibility;
    use crate::progress::experiment::{ExperimentState, Verdict};
    use crate::tree::NodeId;

    const WEEK_MS: u64 = 7 * 86_400_000;

    fn habits() -> Vec<String> {
        ["captures", "backward-moves"].map(str::to_owned).into()
    }

    /// Sixteen positions in which a queen can be taken; each of a pawn's own.
    fn trial() -> Trial {
        let drills = (0..16).map(|i| {
            let (file, rank) = (i % 8, 2 + i / 8);
            let pawn = |r: usize| match r == rank {
                true if file == 0 => "P7".to_owned(),
                true if file == 7 => "7P".to_owned(),
                true => format!("{file}P{}", 7 - file),
                false => "8".to_owned(),
            };
            let fen = format!("4k3/8/8/8/4q3/{}/{}/1N2K3 w - - 0 1", pawn(3), pawn(2));
            drill(&format!("d{i}"), &fen, "Nd2 Qd4")
        });
        Trial::new(drills.collect(), Arc::new(Counting))
    }

    #[test]
    fn one_at_a_time_and_never_changed() {
        let trial = trial();
        let experiments = trial.app.experiments();
        assert_eq!(experiments.report(&TimeZone::UTC).unwrap(), None);
        assert!(matches!(experiments.stop(), Err(AppError::NoExperiment)));
        assert!(experiments.start(&habits()[..1], 16, None).is_err());
        let drawn = experiments.start(&habits(), 16, Some(7)).unwrap();
        assert!(matches!(
            experiments.start(&habits(), 16, None),
            Err(AppError::ExperimentRuns(16))
        ));
        let sentence = experiments.sentence().unwrap().unwrap();
        assert_eq!(
            sentence,
            "Experiment, week 1 of 16. Practise as ever; the blocks begin by draw."
        );
        // After a new start of the program it is the same.
        trial.clock.advance(9 * WEEK_MS);
        let trial = trial.restart();
        let experiments = trial.app.experiments();
        assert_eq!(experiments.running().unwrap(), Some(drawn.clone()));
        experiments.stop().unwrap();
        let told = experiments.report(&TimeZone::UTC).unwrap().unwrap();
        assert_eq!(
            (told.state, told.verdict),
            (ExperimentState::Stopped, Verdict::NotTested)
        );
        assert_eq!((told.check, told.seed), (drawn.check(), Some(7)));
        // The next one knows that there was one before.
        experiments.start(&habits(), 12, Some(8)).unwrap();
        let told = experiments.report(&TimeZone::UTC).unwrap().unwrap();
        assert_eq!((told.earlier, told.state), (1, ExperimentState::Running));
    }

    /// Of every two new positions one measures and one is of the other half; the block's once it has begun, and why is told after the lock.
    #[test]
    fn half_of_what_is_practised_measures() {
        let trial = trial();
        let app = &trial.app;
        let drawn = app.experiments().start(&habits(), 12, Some(7)).unwrap();
        let measures = |id: &str| {
            let (_, drill) = app.drills().find(id).unwrap();
            drawn.measures(&crate::app::practice::recommendations::root_of(drill))
        };
        let offered = |minutes| -> Vec<bool> {
            let next = app.practice().next(minutes).unwrap();
            next.iter().map(|n| measures(&n.drill)).collect()
        };
        let first = offered(8 * 6);
        for pair in first.chunks(2) {
            assert_ne!(pair[0], pair[1], "{first:?}");
        }
        // Ten weeks on both blocks have begun. Every solution holds a backward move, of the queen.
        trial.clock.advance(10 * WEEK_MS);
        let sentence = app.experiments().sentence().unwrap().unwrap();
        assert!(
            sentence
                .starts_with("Experiment, week 11 of 12. Before you decide, look once more for "),
            "{sentence}"
        );
        let mut told = Vec::new();
        for next in app.practice().next(16).unwrap() {
            let subject = Subject::Drill(next.drill);
            let opened = app
                .attempts()
                .open_sitting(&subject, None, BoardVisibility::Root);
            let mut sitting = opened.unwrap();
            sitting.start().unwrap();
            let line = ["Nd2", "Qd4"].map(|m| EntryToken::Move(m.to_owned()));
            sitting.write(NodeId::ROOT, &line).unwrap();
            let chosen = sitting.tree().children(NodeId::ROOT)[0];
            sitting.choose(chosen).unwrap();
            let id = sitting.id().clone();
            assert!(app.practice().why_chosen(&id).is_err());
            sitting.lock().unwrap();
            told.push(app.practice().why_chosen(&id).unwrap().unwrap());
        }
        assert_eq!(told.len(), 2);
        assert!(
            told.iter().any(|t| t.contains("chosen to measure with")),
            "{told:?}"
        );
        // Over, the usual choice is back.
        trial.clock.advance(2 * WEEK_MS);
        assert_eq!(app.experiments().sentence().unwrap(), None);
        let told = app.experiments().report(&TimeZone::UTC).unwrap().unwrap();
        assert_eq!(told.state, ExperimentState::Over);
    }
}
