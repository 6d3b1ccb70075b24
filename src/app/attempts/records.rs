//! What the store keeps of an attempt: its log, its row in the history, and that it was begun.

use std::fmt;

use serde::{Deserialize, Serialize};
use shakmaty::Color;

use crate::attempt::{Attempt, Origin, TimedAttemptEvent};
use crate::board::PositionKey;
use crate::review::{FindingStatus, Review, StoredFindingKind};
use crate::store::Record;

/// The name of a sitting. Names sort in the order in which the sittings were opened.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct AttemptId(pub String);

impl fmt::Display for AttemptId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Record for TimedAttemptEvent {
    const TABLE: &'static str = "attempts";
    const VERSION: u32 = 1;
}

/// One locked attempt in short: all that the history shows.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HistoryEntry {
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
    pub reviewed: Option<ReviewSummary>,
    /// Black was to move; `None` where the summary is older than this field.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub black: Option<bool>,
    /// Time that was given, in milliseconds; `None` where there was no limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub budget_ms: Option<u64>,
    /// In quick calculation the number of its ladder.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quick: Option<u8>,
}

/// A review in short.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ReviewSummary {
    /// Number of counted findings.
    pub findings: usize,
    /// Effect of the first finding, 0 to 1.
    pub effect: f64,
    /// Half-moves, as in the review.
    pub needed: usize,
    pub reached: usize,
    pub sound: usize,
    /// Findings that a coach struck: they are his, and count for nothing else.
    #[serde(default, skip_serializing_if = "is_none")]
    pub struck: usize,
    /// Kinds of the counted findings, each once, in the order of the findings.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub kinds: Vec<StoredFindingKind>,
}

impl Record for HistoryEntry {
    const TABLE: &'static str = "summaries";
    const VERSION: u32 = 1;
}

/// A sitting that was begun and is offered until it is locked or put aside. Written before the first
/// event and removed after the summary, so that no sitting can get lost in between.
#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct OpenAttempt {}

impl Record for OpenAttempt {
    const TABLE: &'static str = "begun";
    const VERSION: u32 = 1;
}

/// The position of an attempt.
pub(crate) fn root_of(attempt: &Attempt) -> PositionKey {
    PositionKey::of(attempt.tree().root().position())
}

impl HistoryEntry {
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
            reviewed: review.map(ReviewSummary::of),
            black: Some(tree.root().player() == Color::Black),
            budget_ms: attempt.opened().budget_ms,
            quick: attempt.opened().quick,
        }
    }
}

// Serde hands the field over as it is.
#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_none(number: &usize) -> bool {
    *number == 0
}

fn struck(review: &Review) -> usize {
    let findings = review.findings.iter();
    findings
        .filter(|f| f.class == FindingStatus::Overruled)
        .count()
}

impl ReviewSummary {
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
            struck: struck(review),
        }
    }
}
