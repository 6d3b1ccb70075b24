//! The use cases: one method each, the same for the command line and for the screens.
//!
//! Takes a [`Config`] (folder, engine, time); gives [`App`], which wires store, drills, judge and
//! review together: [`App::open_sitting`], [`App::resume`], [`App::review`], [`App::history`]. No
//! drawing, no printing. Time comes from a [`Clock`] that is handed in.

mod attempts;
mod error;
mod games;
mod maintenance;
mod playouts;
mod practice;
mod progress;
mod reviews;
mod runtime;
#[cfg(test)]
pub(crate) mod testing;

use std::collections::HashSet;
use std::sync::{Arc, Mutex};

use crate::attempt::{Attempt, Event, Opened, Origin, Sight, What, past_as_uci};
use crate::board::{Line, line};
use crate::drill::Drill;
use crate::progress::next::Chosen;
use crate::review::{Review, ReviewObserver, Settings};

pub use attempts::repository::{Reviewed, SittingId, Summary};
pub use attempts::session::{Piece, Sitting};
pub use error::AppError;
pub use games::memory_notes::Remembered;
pub use games::openings::{Openings, Structure};
pub use games::service::{Judged, Step, Whose, date_of};
pub use maintenance::atomic_file::write_whole;
pub use maintenance::backup::{inspect_backup, restore};
pub use maintenance::health::{Finding, State, setup};
pub use playouts::service::{EngineSays, GameId, GameSummary, Terms, converted};
pub use playouts::session::{Playing, Wish};
pub use practice::drill_library::AddedDrills;
pub use practice::solution_check::Proved;
pub use progress::service::{BlindSpot, Eve, Missed, Next};
pub use reviews::causes::CAUSES_MAX;
pub use reviews::coach::{Answer as CoachAnswer, Sending};
pub use reviews::notes::{Changed, NOTES_MAX, Note, Notes, notes};
pub use reviews::objection::Answered;
pub use reviews::queue::ReviewState;
pub use runtime::clock::{Clock, SetClock, SystemClock};
pub use runtime::open::Config;
pub use runtime::settings_file::{Preset, SETTINGS_FILE};

pub use crate::judge::end_all as end_engines;
pub use crate::store::{BackedUp, Restored, panic_is_handled};

use reviews::background::Ahead;
pub use reviews::queue::SoFar;
use runtime::judge_provider::Bench;

use attempts::repository::Kept;
use reviews::queue::Jobs;

/// The application: cheap to clone, shared between threads.
#[derive(Clone)]
pub struct App {
    kept: Arc<Kept>,
    bench: Arc<Bench>,
    drills: Arc<[Drill]>,
    settings: Settings,
    clock: Arc<dyn Clock>,
    jobs: Arc<Jobs>,
    notices: Arc<[String]>,
    ahead: bool,
    /// What `next` has offered last in this run of the program.
    offered: Arc<Mutex<Vec<Chosen>>>,
}

/// What a new sitting is about.
#[derive(Debug, Clone, PartialEq)]
pub enum Subject {
    /// A drill, by its identifier.
    Drill(String),
    /// A position with the game before it, where it is known.
    Position(Line),
}

/// A sitting that was begun and not locked.
#[derive(Debug, Clone, PartialEq)]
pub struct Unfinished {
    pub id: SittingId,
    /// Wall-clock time of opening, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    pub origin: Origin,
    /// Half-moves written so far.
    pub moves: usize,
    /// Thinking time used so far, in milliseconds.
    pub used_ms: u64,
}

impl App {
    /// The drills: the positions of own games first, then those of the collection in its order.
    #[must_use]
    pub fn drills(&self) -> &[Drill] {
        &self.drills
    }

    /// The first drill that was never locked; the first one where all were.
    ///
    /// # Errors
    /// There is no drill, or the store cannot be read.
    pub fn next_subject(&self) -> Result<Subject, AppError> {
        let history = self.history()?;
        let done: HashSet<&str> = history
            .iter()
            .filter_map(|(_, summary)| match &summary.origin {
                Origin::Drill(id) => Some(id.as_str()),
                _ => None,
            })
            .collect();
        let new = |d: &&Drill| !done.contains(d.id.as_str());
        let next = self.drills.iter().find(new).or(self.drills.first());
        let next = next.ok_or_else(|| AppError::NoSuchDrill("1".to_owned()))?;
        Ok(Subject::Drill(next.id.clone()))
    }

    /// One drill by its identifier, with its place among the positions of own games or in the collection
    /// (the first being 1).
    ///
    /// # Errors
    /// There is no such drill.
    pub fn drill(&self, id: &str) -> Result<(usize, &Drill), AppError> {
        let of_own_games = |d: &Drill| d.id.starts_with(crate::games::OWN);
        let own = self.drills.iter().take_while(|d| of_own_games(d)).count();
        self.drills
            .iter()
            .enumerate()
            .find(|(_, d)| d.id == id)
            .map(|(i, d)| (if i < own { i + 1 } else { i + 1 - own }, d))
            .ok_or_else(|| AppError::NoSuchDrill(id.to_owned()))
    }

    /// What the store had to mend when it was opened, in sentences.
    #[must_use]
    pub fn notices(&self) -> &[String] {
        &self.notices
    }

    /// Wall-clock time, milliseconds since 1970-01-01 UTC.
    #[must_use]
    pub fn wall_ms(&self) -> i64 {
        self.clock.wall_ms()
    }

    /// Opens a sitting. `minutes` overrides the drill's own time; a position without it has no limit.
    ///
    /// # Errors
    /// There is no such drill, or the opening could not be kept.
    pub fn open_sitting(
        &self,
        subject: &Subject,
        minutes: Option<u32>,
        sight: Sight,
    ) -> Result<Sitting, AppError> {
        let (origin, root, minutes) = match subject {
            Subject::Drill(id) => {
                let (_, drill) = self.drill(id)?;
                let minutes = minutes.unwrap_or(drill.minutes);
                (Origin::Drill(id.clone()), &drill.root, Some(minutes))
            }
            Subject::Position(line) => (Origin::Position, line, minutes),
        };
        self.open_at(origin, root, minutes, sight)
    }

    /// Opens a sitting on a position, from wherever it comes.
    fn open_at(
        &self,
        origin: Origin,
        root: &Line,
        minutes: Option<u32>,
        sight: Sight,
    ) -> Result<Sitting, AppError> {
        let wall_ms = self.clock.wall_ms();
        let drill = match &origin {
            Origin::Drill(drill) => Some(drill.clone()),
            _ => None,
        };
        let first = Event {
            at_ms: 0,
            what: What::Opened(Opened {
                origin,
                start_fen: line::fen(root.start()),
                past: past_as_uci(root),
                budget_ms: minutes.map(|m| u64::from(m) * 60_000),
                sight,
                wall_ms,
            }),
        };
        let id = self.kept.fresh_id(wall_ms)?;
        if let Some(drill) = &drill {
            self.keep_why(&id, drill)?;
        }
        let sitting = Sitting::open(id, &first, self.kept.clone(), self.clock.clone())?;
        Ok(sitting.with(self.worker()))
    }

    /// The sittings that were begun and not locked, the newest first. What is written before a move of a
    /// game belongs to the game, which is what goes on.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn unfinished(&self) -> Result<Vec<Unfinished>, AppError> {
        let found = self.kept.unfinished()?.into_iter().filter(|(_, attempt)| {
            let origin = &attempt.opened().origin;
            !matches!(origin, crate::attempt::Origin::Playout { .. })
        });
        Ok(found.map(Unfinished::of).collect())
    }

    /// Takes a sitting up again where its log ends.
    ///
    /// # Errors
    /// There is no such sitting, it is damaged, or the event could not be kept.
    pub fn resume(&self, id: &SittingId) -> Result<Sitting, AppError> {
        let attempt = self.kept.attempt(id)?;
        let mut sitting = Sitting::at(id.clone(), attempt, self.kept.clone(), self.clock.clone());
        sitting.record(What::Resumed)?;
        Ok(sitting.with(self.worker()))
    }

    fn worker(&self) -> Option<Ahead> {
        self.ahead
            .then(|| Ahead::start(self.bench.clone(), self.settings))
    }

    /// A locked sitting again, for what may still be added to it.
    ///
    /// # Errors
    /// There is no such sitting, or it is damaged.
    pub fn locked(&self, id: &SittingId) -> Result<Sitting, AppError> {
        let attempt = self.kept.attempt(id)?;
        let (kept, clock) = (self.kept.clone(), self.clock.clone());
        Ok(Sitting::at(id.clone(), attempt, kept, clock))
    }

    /// Puts an unfinished sitting aside: it is kept, but no longer offered.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn put_aside(&self, id: &SittingId) -> Result<(), AppError> {
        self.kept.put_aside(id)
    }

    /// One attempt as its log has made it.
    ///
    /// # Errors
    /// There is no such attempt, or it is damaged.
    pub fn attempt(&self, id: &SittingId) -> Result<Attempt, AppError> {
        self.kept.attempt(id)
    }

    /// The locked attempts, the newest first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn history(&self) -> Result<Vec<(SittingId, Summary)>, AppError> {
        let mut all = self.kept.summaries()?;
        all.reverse();
        Ok(all)
    }

    /// Compares a locked attempt with the truth, and keeps the review in short for the history.
    ///
    /// # Errors
    /// There is no such attempt, it is not locked, the engine failed (the attempt is untouched and can
    /// be reviewed later), or the summary could not be kept.
    pub fn review(
        &self,
        id: &SittingId,
        watcher: &mut dyn ReviewObserver,
    ) -> Result<Review, AppError> {
        let attempt = self.kept.attempt(id)?;
        if attempt.locked_ms().is_none() {
            return Err(AppError::NotLocked);
        }
        self.refuse_in_play(id, &attempt)?;
        let review =
            reviews::queue::compute(&attempt, &*self.bench.judge()?, &self.settings, watcher)?;
        // Where the store is only read the notices have said that nothing is kept.
        if !self.kept.store().is_read_only() {
            self.kept.summarise(id, &attempt, Some(&review))?;
            self.count(id, &attempt, &review)?;
        }
        Ok(review)
    }
}

impl Unfinished {
    fn of((id, attempt): (SittingId, Attempt)) -> Self {
        let started = attempt.started_ms().unwrap_or(attempt.last_ms());
        Self {
            id,
            wall_ms: attempt.opened().wall_ms,
            origin: attempt.opened().origin.clone(),
            moves: attempt.tree().len(),
            used_ms: attempt.last_ms().saturating_sub(started),
        }
    }
}
