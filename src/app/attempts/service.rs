//! Sittings: opened, taken up again, looked at.

use std::collections::HashSet;
use std::sync::Arc;

use crate::app::attempts::background::{BackgroundAnalysis, BackgroundAnalyst};
use crate::app::attempts::records::{AttemptId, HistoryEntry};
use crate::app::attempts::repository::AttemptRepository;
use crate::app::attempts::selection::SelectionReasons;
use crate::app::attempts::session::AttemptSession;
use crate::app::practice::catalogue::DrillCatalogue;
use crate::app::{AppError, Clock};
use crate::attempt::{
    Attempt, AttemptEvent, BoardVisibility, Opened, Origin, TimedAttemptEvent, past_as_uci,
};
use crate::board::{Line, line};

/// Opens sittings, takes them up again, and gives attempts as their logs have made them.
#[derive(Clone)]
pub struct AttemptService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) drills: DrillCatalogue,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) reasons: SelectionReasons,
    /// Works on what is written while the player writes; `None` where it must not.
    pub(crate) analyst: Option<BackgroundAnalyst>,
}

/// What a new sitting is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Subject {
    /// A drill, by its identifier.
    Drill(String),
    /// A position with the game before it, where it is known.
    Position(Line),
    /// A position of quick calculation: its drill, the number of its ladder, and the clock in milliseconds.
    Quick {
        drill: String,
        ladder: u8,
        clock_ms: u64,
    },
    /// A position of an own game, written from memory: which one, in words, and the game up to it.
    Memory { words: String, line: Line },
    /// A position that a coach set as homework: who, and the moves before it.
    Homework { by: String, line: Line },
}

/// A sitting that was begun and not locked.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenSitting {
    pub id: AttemptId,
    /// Wall-clock time of opening, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    pub origin: Origin,
    /// Half-moves written so far.
    pub moves: usize,
    /// Thinking time used so far, in milliseconds.
    pub used_ms: u64,
}

impl AttemptService {
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
        let new = |d: &&crate::drill::Drill| !done.contains(d.id.as_str());
        let next = self
            .drills
            .all()
            .iter()
            .find(new)
            .or(self.drills.all().first());
        let next = next.ok_or_else(|| AppError::NoSuchDrill("1".to_owned()))?;
        Ok(Subject::Drill(next.id.clone()))
    }

    /// Opens a sitting. `minutes` overrides the drill's own time; a position without it has no limit.
    ///
    /// # Errors
    /// There is no such drill, or the opening could not be kept.
    pub fn open_sitting(
        &self,
        subject: &Subject,
        minutes: Option<u32>,
        sight: BoardVisibility,
    ) -> Result<AttemptSession, AppError> {
        let (origin, root, minutes) = match subject {
            Subject::Drill(id) => {
                let (_, drill) = self.drills.find(id)?;
                let minutes = minutes.unwrap_or(drill.minutes);
                (Origin::Drill(id.clone()), &drill.root, Some(minutes))
            }
            Subject::Quick {
                drill,
                ladder,
                clock_ms,
            } => {
                let root = &self.drills.find(drill)?.1.root;
                let origin = Origin::Drill(drill.clone());
                let terms = (Some(*clock_ms), Some(*ladder));
                return self.open_with(origin, root, terms, sight);
            }
            Subject::Position(line) => (Origin::Position, line, minutes),
            Subject::Homework { by, line } => (Origin::Homework { by: by.clone() }, line, minutes),
            Subject::Memory { words, line } => (
                Origin::Notes(format!("from memory: {words}")),
                line,
                minutes,
            ),
        };
        self.open_at(origin, root, minutes, sight)
    }

    /// Opens a sitting on a position, from wherever it comes.
    pub(crate) fn open_at(
        &self,
        origin: Origin,
        root: &Line,
        minutes: Option<u32>,
        sight: BoardVisibility,
    ) -> Result<AttemptSession, AppError> {
        let budget_ms = minutes.map(|m| u64::from(m) * 60_000);
        self.open_with(origin, root, (budget_ms, None), sight)
    }

    /// With the time in milliseconds, and the ladder of quick calculation.
    fn open_with(
        &self,
        origin: Origin,
        root: &Line,
        (budget_ms, quick): (Option<u64>, Option<u8>),
        sight: BoardVisibility,
    ) -> Result<AttemptSession, AppError> {
        let wall_ms = self.clock.wall_ms();
        let drill = match &origin {
            Origin::Drill(drill) => Some(drill.clone()),
            _ => None,
        };
        let first = TimedAttemptEvent {
            at_ms: 0,
            what: AttemptEvent::Opened(Opened {
                origin,
                start_fen: line::fen(root.start()),
                past: past_as_uci(root),
                budget_ms,
                sight,
                wall_ms,
                quick,
            }),
        };
        let id = self.repository.fresh_id(wall_ms)?;
        if let Some(drill) = &drill {
            self.reasons.keep_why(&id, drill)?;
        }
        let sitting =
            AttemptSession::open(id, &first, self.repository.clone(), self.clock.clone())?;
        Ok(sitting.with(self.worker()))
    }

    /// The sittings that were begun and not locked, the newest first. What is written before a move of a
    /// game belongs to the game, which is what goes on.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn unfinished(&self) -> Result<Vec<OpenSitting>, AppError> {
        let found = self
            .repository
            .unfinished()?
            .into_iter()
            .filter(|(_, attempt)| {
                let origin = &attempt.opened().origin;
                !matches!(origin, crate::attempt::Origin::Playout { .. })
            });
        Ok(found.map(OpenSitting::of).collect())
    }

    /// Takes a sitting up again where its log ends.
    ///
    /// # Errors
    /// There is no such sitting, it is damaged, or the event could not be kept.
    pub fn resume(&self, id: &AttemptId) -> Result<AttemptSession, AppError> {
        let attempt = self.repository.attempt(id)?;
        let mut sitting = AttemptSession::at(
            id.clone(),
            attempt,
            self.repository.clone(),
            self.clock.clone(),
        );
        sitting.record(AttemptEvent::Resumed)?;
        Ok(sitting.with(self.worker()))
    }

    fn worker(&self) -> Option<BackgroundAnalysis> {
        self.analyst.as_ref().map(BackgroundAnalyst::start)
    }

    /// A locked sitting again, for what may still be added to it.
    ///
    /// # Errors
    /// There is no such sitting, or it is damaged.
    pub fn locked(&self, id: &AttemptId) -> Result<AttemptSession, AppError> {
        let attempt = self.repository.attempt(id)?;
        let (kept, clock) = (self.repository.clone(), self.clock.clone());
        Ok(AttemptSession::at(id.clone(), attempt, kept, clock))
    }

    /// Puts an unfinished sitting aside: it is kept, but no longer offered.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn put_aside(&self, id: &AttemptId) -> Result<(), AppError> {
        self.repository.put_aside(id)
    }

    /// One attempt as its log has made it.
    ///
    /// # Errors
    /// There is no such attempt, or it is damaged.
    pub fn attempt(&self, id: &AttemptId) -> Result<Attempt, AppError> {
        self.repository.attempt(id)
    }

    /// The locked attempts, the newest first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn history(&self) -> Result<Vec<(AttemptId, HistoryEntry)>, AppError> {
        let mut all = self.repository.summaries()?;
        all.reverse();
        Ok(all)
    }
}

impl OpenSitting {
    fn of((id, attempt): (AttemptId, Attempt)) -> Self {
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
