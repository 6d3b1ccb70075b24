//! What the application keeps in the store: the log of every sitting, and one summary per attempt.

use std::collections::HashMap;
use std::fmt;
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use shakmaty::Color;

use crate::app::AppError;
use crate::attempt::{Attempt, Event, Origin, Stage};
use crate::progress::Sighted;
use crate::review::{Review, StoredFindingKind};
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
    /// Black was to move; `None` where the summary is older than this field.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub black: Option<bool>,
    /// Time that was given, in milliseconds; `None` where there was no limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub budget_ms: Option<u64>,
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
    /// Kinds of the counted findings, each once, in the order of the findings.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub kinds: Vec<StoredFindingKind>,
}

impl Record for Summary {
    const TABLE: &'static str = "summaries";
    const VERSION: u32 = 1;
}

/// A sitting that was begun and is offered until it is locked or put aside. Written before the first
/// event and removed after the summary, so that no sitting can get lost in between.
#[derive(Debug, Serialize, Deserialize)]
struct Begun {}

impl Record for Begun {
    const TABLE: &'static str = "begun";
    const VERSION: u32 = 1;
}

/// The store as the application sees it.
pub(crate) struct Kept(Arc<Store>);

impl Kept {
    pub(crate) fn new(store: Arc<Store>) -> Self {
        Self(store)
    }

    /// The store itself, for the tables of other rooms.
    pub(crate) fn store(&self) -> &Store {
        &self.0
    }

    /// Table and form of the sittings that are begun.
    pub(crate) fn begun() -> (&'static str, u32) {
        (Begun::TABLE, Begun::VERSION)
    }

    /// All records of one kind, in the order of their keys.
    pub(crate) fn scan<R: Record>(&self) -> Result<Vec<R>, AppError> {
        Ok(self.0.scan::<R>()?.into_iter().map(|(_, r)| r).collect())
    }

    /// Keeps one record.
    pub(crate) fn put<R: Record>(&self, key: &str, record: &R) -> Result<(), AppError> {
        Ok(self.0.put(key, record)?)
    }

    /// A name that no sitting has yet.
    pub(crate) fn fresh_id(&self, wall_ms: i64) -> Result<SittingId, AppError> {
        Ok(SittingId(self.fresh_name::<Event>(wall_ms, 0)?.0))
    }

    /// A name that no log of such events has yet, with its number among those of the same time, which is `number`
    /// or higher; names sort in the order in which they were given.
    pub(crate) fn fresh_name<R: Record>(
        &self,
        wall_ms: i64,
        mut number: usize,
    ) -> Result<(String, usize), AppError> {
        loop {
            let name = format!("{:013}-{number:04}", wall_ms.max(0));
            if self.0.events::<R>(&name)?.is_empty() {
                return Ok((name, number));
            }
            number += 1;
        }
    }

    /// The sitting is offered from here on, until [`Kept::put_aside`] or [`Kept::close`].
    pub(crate) fn begin(&self, id: &SittingId) -> Result<(), AppError> {
        Ok(self.0.put(&id.0, &Begun {})?)
    }

    /// Keeps one event; returns when it is on disk.
    pub(crate) fn append(
        &self,
        id: &SittingId,
        number: usize,
        event: &Event,
    ) -> Result<(), AppError> {
        Ok(self.0.append_event(&id.0, number as u64, event)?)
    }

    pub(crate) fn attempt(&self, id: &SittingId) -> Result<Attempt, AppError> {
        let log: Vec<Event> = self.0.events(&id.0)?;
        if log.is_empty() {
            return Err(AppError::NoSuchAttempt(id.0.clone()));
        }
        Ok(Attempt::fold(&log)?)
    }

    /// Sittings that writing has begun in and that are not locked, the newest first. What a kill left
    /// half done is finished here.
    pub(crate) fn unfinished(&self) -> Result<Vec<(SittingId, Attempt)>, AppError> {
        let mut found = Vec::new();
        for (id, _) in self.0.scan::<Begun>()?.into_iter().rev() {
            let id = SittingId(id);
            if self.0.events::<Event>(&id.0)?.is_empty() {
                self.put_aside(&id)?;
                continue;
            }
            let attempt = self.attempt(&id)?;
            match attempt.stage() {
                Stage::Looking => {}
                Stage::Writing => found.push((id, attempt)),
                Stage::Locked => self.close(&id, &attempt)?,
            }
        }
        Ok(found)
    }

    /// The sitting is no longer offered; its log stays.
    pub(crate) fn put_aside(&self, id: &SittingId) -> Result<(), AppError> {
        self.0.remove::<Begun>(&id.0)?;
        Ok(())
    }

    /// A locked sitting goes over into the history.
    pub(crate) fn close(&self, id: &SittingId, attempt: &Attempt) -> Result<(), AppError> {
        self.summarise(id, attempt, None)?;
        self.sight(&crate::app::progress::service::root_name(attempt), id)?;
        self.put_aside(id)
    }

    /// True where this is the first attempt at the position; the first one is noted.
    pub(crate) fn sight(&self, root: &str, id: &SittingId) -> Result<bool, AppError> {
        if let Some(first) = self.0.get::<Sighted>(root)? {
            return Ok(first.attempt == id.0);
        }
        let attempt = id.0.clone();
        self.0.put(root, &Sighted { attempt })?;
        Ok(true)
    }

    /// The positions that were attempted, by the name of their first attempt.
    pub(crate) fn sighted(&self) -> Result<HashMap<String, String>, AppError> {
        let all = self.0.scan::<Sighted>()?;
        Ok(all.into_iter().map(|(root, s)| (s.attempt, root)).collect())
    }

    pub(crate) fn summaries(&self) -> Result<Vec<(SittingId, Summary)>, AppError> {
        let all = self.0.scan::<Summary>()?;
        Ok(all.into_iter().map(|(id, s)| (SittingId(id), s)).collect())
    }

    pub(crate) fn summarise(
        &self,
        id: &SittingId,
        attempt: &Attempt,
        review: Option<&Review>,
    ) -> Result<(), AppError> {
        Ok(self.0.put(&id.0, &Summary::of(attempt, review))?)
    }
}

impl Summary {
    pub(crate) fn of(attempt: &Attempt, review: Option<&Review>) -> Self {
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
            black: Some(tree.root().player() == Color::Black),
            budget_ms: attempt.opened().budget_ms,
        }
    }
}

impl Reviewed {
    fn of(review: &Review) -> Self {
        let mut kinds: Vec<StoredFindingKind> = Vec::new();
        for finding in review.counted() {
            let kind = finding.kind.into();
            if !kinds.contains(&kind) {
                kinds.push(kind);
            }
        }
        Self {
            kinds,
            findings: review.counted().count(),
            effect: review.counted().next().map_or(0.0, |f| f.effect.value()),
            needed: review.depth.needed,
            reached: review.depth.reached,
            sound: review.depth.sound,
        }
    }
}
