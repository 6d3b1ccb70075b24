//! Attempts that were written elsewhere and come in whole, many of them kept in one step.

use std::collections::HashSet;

use crate::app::AppError;
use crate::app::attempts::records::{AttemptId, HistoryEntry, root_of};
use crate::app::attempts::repository::AttemptRepository;
use crate::attempt::{Attempt, AttemptEvent, TimedAttemptEvent};
use crate::board::PositionKey;
use crate::progress::Sighted;
use crate::store::{Batch, Record};

/// Bytes that are gathered before they are kept.
const GATHERED: usize = 1 << 20;

/// What has come in and is not kept yet. What belongs together is given in one piece, and goes in one step.
pub(crate) struct AttemptImporter<'k> {
    repository: &'k AttemptRepository,
    batch: Batch<'k>,
    /// Positions that nobody had attempted before.
    roots: HashSet<PositionKey>,
    last: Option<(i64, usize)>,
}

impl<'k> AttemptImporter<'k> {
    pub(crate) fn new(repository: &'k AttemptRepository) -> Self {
        Self {
            repository,
            batch: repository.store().batch(),
            roots: HashSet::new(),
            last: None,
        }
    }

    /// A locked attempt with its log, into the history.
    pub(crate) fn attempt(&mut self, log: &[TimedAttemptEvent]) -> Result<AttemptId, AppError> {
        // Folded before anything is kept: a tree that no log can make leaves nothing behind.
        let attempt = Attempt::fold(log)?;
        let root = root_of(&attempt);
        let first: Option<Sighted> = self.repository.store().get(root.as_str())?;
        let summary = HistoryEntry::of(&attempt, None);
        if let Some(id) = first.as_ref().and_then(|f| self.left_by_a_kill(f, log)) {
            self.batch.put(&id.0, &summary)?;
            return Ok(id);
        }
        let id = self.name(attempt.opened().wall_ms)?;
        self.batch.put_log(&id.0, log)?;
        if first.is_none() && self.roots.insert(root.clone()) {
            let attempt = id.0.clone();
            self.batch.put(root.as_str(), &Sighted { attempt })?;
        }
        // Last: with it the attempt is in the history.
        self.batch.put(&id.0, &summary)?;
        Ok(id)
    }

    /// The first attempt at the position, where it is this very one, only at another time: a process that was killed
    /// has kept it and nothing of what belongs to it.
    fn left_by_a_kill(&self, first: &Sighted, log: &[TimedAttemptEvent]) -> Option<AttemptId> {
        let kept: Vec<TimedAttemptEvent> = self.repository.store().events(&first.attempt).ok()?;
        let same = kept.get(1..) == log.get(1..);
        let origin = |log: &[TimedAttemptEvent]| match log.first().map(|e| &e.what) {
            Some(AttemptEvent::Opened(opened)) => Some(opened.origin.clone()),
            _ => None,
        };
        (same && origin(&kept) == origin(log)).then(|| AttemptId(first.attempt.clone()))
    }

    /// A record that belongs to what came before it.
    pub(crate) fn put<R: Record>(&mut self, key: &str, record: &R) -> Result<(), AppError> {
        Ok(self.batch.put(key, record)?)
    }

    /// All that belongs together is in: where much has been gathered, it is kept.
    pub(crate) fn whole(&mut self) -> Result<(), AppError> {
        if self.batch.bytes() < GATHERED {
            return Ok(());
        }
        let next = self.repository.store().batch();
        Ok(std::mem::replace(&mut self.batch, next).keep()?)
    }

    pub(crate) fn keep(self) -> Result<(), AppError> {
        Ok(self.batch.keep()?)
    }

    /// A name that no attempt has, of those that are not kept yet neither.
    fn name(&mut self, wall_ms: i64) -> Result<AttemptId, AppError> {
        let from = match self.last {
            Some((last, number)) if last == wall_ms => number + 1,
            _ => 0,
        };
        let (name, number) = self
            .repository
            .fresh_name::<TimedAttemptEvent>(wall_ms, from)?;
        self.last = Some((wall_ms, number));
        Ok(AttemptId(name))
    }
}
