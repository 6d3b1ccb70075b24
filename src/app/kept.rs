//! What the application keeps in the store: the log of every sitting, and one summary per attempt.

use std::collections::HashSet;
use std::fmt;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::AppError;
use crate::attempt::{Attempt, Event, Origin, Stage};
use crate::review::Review;
use crate::store::{Record, Store};

/// The name of a sitting. Names sort in the order in which the sittings were opened.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct SittingId(pub String);

impl fmt::Display for SittingId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Record for Event {
    const TABLE: &'static str = "attempts";
    const VERSION: u32 = 1;
}

/// One locked attempt in short: all that the history shows.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Summary {
    /// Wall-clock time of opening, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    pub origin: Origin,
    /// Thinking time in milliseconds.
    pub used_ms: u64,
    /// The chosen move as typed.
    pub choice: String,
    /// Half-moves written and still standing.
    pub moves: usize,
    /// What the review said; `None` until it has been computed.
    pub reviewed: Option<Reviewed>,
}

/// A review in short.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Reviewed {
    /// Number of counted findings.
    pub findings: usize,
    /// Effect of the first finding, 0 to 1.
    pub effect: f64,
    /// Half-moves, as in the review.
    pub needed: usize,
    pub reached: usize,
    pub sound: usize,
}

impl Record for Summary {
    const TABLE: &'static str = "summaries";
    const VERSION: u32 = 1;
}

/// A sitting that was put aside: kept, but no longer offered.
#[derive(Debug, Serialize, Deserialize)]
struct Aside {}

impl Record for Aside {
    const TABLE: &'static str = "aside";
    const VERSION: u32 = 1;
}

/// The store as the application sees it.
pub(super) struct Kept(Arc<Store>);

impl Kept {
    pub(super) fn new(store: Arc<Store>) -> Self {
        Self(store)
    }

    /// A name that no sitting has yet.
    pub(super) fn fresh_id(&self, wall_ms: i64) -> Result<SittingId, AppError> {
        let taken: HashSet<String> = self.0.log_ids::<Event>()?.into_iter().collect();
        let id = (0u32..)
            .map(|n| format!("{:013}-{n:04}", wall_ms.max(0)))
            .find(|id| !taken.contains(id));
        Ok(SittingId(id.unwrap_or_default()))
    }

    /// Keeps one event; returns when it is on disk.
    pub(super) fn append(
        &self,
        id: &SittingId,
        number: usize,
        event: &Event,
    ) -> Result<(), AppError> {
        Ok(self.0.append_event(&id.0, number as u64, event)?)
    }

    pub(super) fn attempt(&self, id: &SittingId) -> Result<Attempt, AppError> {
        let log: Vec<Event> = self.0.events(&id.0)?;
        if log.is_empty() {
            return Err(AppError::NoSuchAttempt(id.0.clone()));
        }
        Ok(Attempt::fold(&log)?)
    }

    /// Sittings that writing has begun in and that are not locked, the newest first. A sitting whose
    /// summary got lost between its lock and the end of the process gets it here.
    pub(super) fn unfinished(&self) -> Result<Vec<(SittingId, Attempt)>, AppError> {
        let done: HashSet<String> = self.summaries()?.into_iter().map(|(id, _)| id.0).collect();
        let mut found = Vec::new();
        for id in self.0.log_ids::<Event>()?.into_iter().rev() {
            if done.contains(&id) || self.0.get::<Aside>(&id)?.is_some() {
                continue;
            }
            let id = SittingId(id);
            let attempt = self.attempt(&id)?;
            match attempt.stage() {
                Stage::Looking => {}
                Stage::Writing => found.push((id, attempt)),
                Stage::Locked => self.summarise(&id, &attempt, None)?,
            }
        }
        Ok(found)
    }

    pub(super) fn put_aside(&self, id: &SittingId) -> Result<(), AppError> {
        Ok(self.0.put(&id.0, &Aside {})?)
    }

    pub(super) fn summaries(&self) -> Result<Vec<(SittingId, Summary)>, AppError> {
        let all = self.0.scan::<Summary>()?;
        Ok(all.into_iter().map(|(id, s)| (SittingId(id), s)).collect())
    }

    pub(super) fn summarise(
        &self,
        id: &SittingId,
        attempt: &Attempt,
        review: Option<&Review>,
    ) -> Result<(), AppError> {
        Ok(self.0.put(&id.0, &Summary::of(attempt, review))?)
    }
}

impl Summary {
    fn of(attempt: &Attempt, review: Option<&Review>) -> Self {
        let tree = attempt.tree();
        let used = attempt.locked_ms().unwrap_or(attempt.last_ms());
        let choice = attempt.choice().and_then(|c| tree.node(c));
        Self {
            wall_ms: attempt.opened().wall_ms,
            origin: attempt.opened().origin.clone(),
            used_ms: used.saturating_sub(attempt.started_ms().unwrap_or(used)),
            choice: choice.map_or_else(String::new, |n| n.text.clone()),
            moves: tree.nodes().filter(|(id, _)| tree.stands(*id)).count(),
            reviewed: review.map(Reviewed::of),
        }
    }
}

impl Reviewed {
    fn of(review: &Review) -> Self {
        Self {
            findings: review.counted().count(),
            effect: review.counted().next().map_or(0.0, |f| f.effect),
            needed: review.depth.needed,
            reached: review.depth.reached,
            sound: review.depth.sound,
        }
    }
}
