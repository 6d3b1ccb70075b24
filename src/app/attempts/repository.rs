//! The attempts in the store: the one place that knows in which tables they lie.

use std::sync::Arc;

use crate::app::AppError;
use crate::app::attempts::records::{AttemptId, HistoryEntry, OpenAttempt, root_of};
use crate::app::projections::AttemptIndex;
use crate::attempt::{Attempt, Stage, TimedAttemptEvent};
use crate::board::PositionKey;
use crate::progress::Sighted;
use crate::review::Review;
use crate::store::{Batch, ProjectionCache, Record, Store, StoreError};

/// The attempts as the store keeps them: the log of each, and what stands beside the logs.
pub(crate) struct AttemptRepository {
    store: Arc<Store>,
    index: ProjectionCache<AttemptIndex>,
}

impl AttemptRepository {
    pub(crate) fn new(store: Arc<Store>) -> Self {
        Self {
            store,
            index: ProjectionCache::default(),
        }
    }

    /// The store itself, for the tables of other rooms.
    pub(crate) fn store(&self) -> &Store {
        &self.store
    }

    /// What is counted over all attempts and games, as it is now, with what other windows have kept.
    pub(crate) fn index(&self) -> Result<Arc<AttemptIndex>, AppError> {
        if let Err(e) = self.store.refresh() {
            // It waits where it is, and what is here can be shown all the same.
            let aside = self.store.set_aside();
            aside.add(tr!("what another window has kept just now"), e.brief());
        }
        Ok(self.index.current(&self.store)?)
    }

    /// To be called when the program ends.
    pub(crate) fn save_index(&self) {
        self.index.save(&self.store);
    }

    /// All records of one kind, in the order of their keys.
    pub(crate) fn scan<R: Record>(&self) -> Result<Vec<R>, AppError> {
        let all = self.store.scan::<R>()?;
        Ok(all.into_iter().map(|(_, r)| r).collect())
    }

    /// Keeps one record.
    pub(crate) fn put<R: Record>(&self, key: &str, record: &R) -> Result<(), AppError> {
        Ok(self.store.put(key, record)?)
    }

    /// A name that no sitting has yet.
    pub(crate) fn fresh_id(&self, wall_ms: i64) -> Result<AttemptId, AppError> {
        Ok(AttemptId(
            self.fresh_name::<TimedAttemptEvent>(wall_ms, 0)?.0,
        ))
    }

    /// A name that no log of such events has yet, with its number among those of the same time, which is `number`
    /// or higher; names sort in the order in which they were given.
    pub(crate) fn fresh_name<R: Record>(
        &self,
        wall_ms: i64,
        number: usize,
    ) -> Result<(String, usize), AppError> {
        let mut number = number.max(self.store.first_number());
        loop {
            let name = format!("{:013}-{number:04}", wall_ms.max(0));
            if self.store.events::<R>(&name)?.is_empty() {
                return Ok((name, number));
            }
            number += 1;
        }
    }

    /// What belongs together, to be kept in one step.
    pub(crate) fn step(&self) -> Step<'_> {
        Step {
            store: &self.store,
            batch: self.store.batch(),
        }
    }

    pub(crate) fn attempt(&self, id: &AttemptId) -> Result<Attempt, AppError> {
        let log: Vec<TimedAttemptEvent> = self.store.events(&id.0)?;
        if log.is_empty() {
            return Err(AppError::NoSuchAttempt(id.0.clone()));
        }
        Ok(Attempt::fold(&log)?)
    }

    /// The attempt, or `None` where its log cannot be read or tells of no attempt: that is noted, and the others go on.
    pub(crate) fn readable_attempt(&self, id: &AttemptId) -> Result<Option<Attempt>, AppError> {
        use StoreError::{Newer, Older, Unreadable};
        match self.attempt(id) {
            Err(
                why @ (AppError::Attempt(_)
                | AppError::NoSuchAttempt(_)
                | AppError::Store(Newer { .. } | Older { .. } | Unreadable { .. })),
            ) => {
                let what = tr!("attempt '{id}'");
                self.store.set_aside().add(&what, why.brief());
                Ok(None)
            }
            read => read.map(Some),
        }
    }

    /// Sittings that writing has begun in and that are not locked, the newest first. What a kill of an
    /// older program, which kept a sitting in several steps, left half done is finished here.
    pub(crate) fn unfinished(&self) -> Result<Vec<(AttemptId, Attempt)>, AppError> {
        let mut found = Vec::new();
        for id in self.index()?.begun.iter().rev() {
            let id = AttemptId(id.clone());
            if matches!(self.store.events::<TimedAttemptEvent>(&id.0), Ok(log) if log.is_empty()) {
                self.put_aside(&id)?;
                continue;
            }
            let Some(attempt) = self.readable_attempt(&id)? else {
                continue;
            };
            match attempt.stage() {
                Stage::Looking => {}
                Stage::Writing => found.push((id, attempt)),
                Stage::Locked => {
                    let mut step = self.step();
                    step.close(&id, &attempt)?;
                    step.keep()?;
                }
            }
        }
        Ok(found)
    }

    /// The sitting is no longer offered; its log stays.
    pub(crate) fn put_aside(&self, id: &AttemptId) -> Result<(), AppError> {
        self.store.remove::<OpenAttempt>(&id.0)?;
        Ok(())
    }

    pub(crate) fn summaries(&self) -> Result<Vec<(AttemptId, HistoryEntry)>, AppError> {
        let index = self.index()?;
        let rows = index.history.iter();
        Ok(rows
            .map(|(id, s)| (AttemptId(id.clone()), s.clone()))
            .collect())
    }
}

/// Changes that are kept together.
#[must_use]
pub(crate) struct Step<'s> {
    store: &'s Store,
    batch: Batch<'s>,
}

impl Step<'_> {
    /// The sitting is offered from here on, until [`Step::close`] or [`AttemptRepository::put_aside`].
    pub(crate) fn begin(&mut self, id: &AttemptId) -> Result<(), AppError> {
        Ok(self.batch.put(&id.0, &OpenAttempt {})?)
    }

    pub(crate) fn append(
        &mut self,
        id: &AttemptId,
        number: usize,
        event: &TimedAttemptEvent,
    ) -> Result<(), AppError> {
        Ok(self.batch.append_event(&id.0, number as u64, event)?)
    }

    /// A locked sitting goes over into the history.
    pub(crate) fn close(&mut self, id: &AttemptId, attempt: &Attempt) -> Result<(), AppError> {
        self.summarise(id, attempt, None)?;
        self.hand_in(self.store, id, attempt)?;
        self.sight(&root_of(attempt), id)?;
        Ok(self.batch.remove::<OpenAttempt>(&id.0)?)
    }

    /// True where this is the first attempt at the position; the first one is noted.
    pub(crate) fn sight(&mut self, root: &PositionKey, id: &AttemptId) -> Result<bool, AppError> {
        if let Some(first) = self.store.get::<Sighted>(root.as_str())? {
            return Ok(first.attempt == id.0);
        }
        let attempt = id.0.clone();
        self.batch.put(root.as_str(), &Sighted { attempt })?;
        Ok(true)
    }

    pub(crate) fn summarise(
        &mut self,
        id: &AttemptId,
        attempt: &Attempt,
        review: Option<&Review>,
    ) -> Result<(), AppError> {
        self.put(&id.0, &HistoryEntry::of(attempt, review))
    }

    /// Any other record; one that stands there already as it is costs no entry.
    pub(crate) fn put<R: Record>(&mut self, key: &str, record: &R) -> Result<(), AppError> {
        Ok(self.batch.put(key, record)?)
    }

    /// Keeps it all; returns when it is on disk.
    pub(crate) fn keep(self) -> Result<(), AppError> {
        Ok(self.batch.keep()?)
    }
}
