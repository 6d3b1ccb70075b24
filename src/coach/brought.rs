//! What a coach's file brought.

use serde::Serialize;

use crate::attempt::AttemptEvent;
use crate::tree::NodeId;

/// What a coach's file brought, to be appended to the attempt and to be told.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct CoachImport {
    pub attempt: String,
    /// The coach's name.
    pub by: String,
    /// New lines, in SAN from the root to their ends.
    pub lines: Vec<Vec<String>>,
    /// New verdicts and glyphs, as sentences.
    pub judged: Vec<String>,
    /// New words: moves from the root, and what he says.
    pub said: Vec<(Vec<String>, String)>,
    /// Findings he struck, as sentences.
    pub overruled: Vec<String>,
    /// Findings he let stand again.
    pub upheld: Vec<String>,
    /// Moves from the root to positions he set as homework.
    pub homework: Vec<Vec<String>>,
    /// The same with what to do and until when.
    pub tasks: Vec<Assignment>,
    /// What could not be taken, or stands against what was sent.
    pub conflicts: Vec<String>,
    /// What the file no longer has; it stays in the attempt.
    pub kept: Vec<String>,
    /// What to append to the attempt's log.
    #[serde(skip)]
    pub events: Vec<AttemptEvent>,
}

/// A position that a coach set as homework.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Assignment {
    /// The move of the coaches' tree after which it is; the root for the position itself.
    #[serde(skip)]
    pub node: NodeId,
    /// Moves from the root to it, in SAN.
    pub path: Vec<String>,
    /// The day by which it is to be done, as ISO 8601 writes it; `None` where he named none.
    pub due: Option<String>,
    /// What to do, in his words; may be empty.
    pub words: String,
}

impl CoachImport {
    /// True where there is nothing to append.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.events.is_empty()
    }
}

impl CoachImport {
    pub(super) fn new(id: &str, by: &str) -> Self {
        Self {
            attempt: id.to_owned(),
            by: by.to_owned(),
            lines: Vec::new(),
            judged: Vec::new(),
            said: Vec::new(),
            overruled: Vec::new(),
            upheld: Vec::new(),
            homework: Vec::new(),
            tasks: Vec::new(),
            conflicts: Vec::new(),
            kept: Vec::new(),
            events: Vec::new(),
        }
    }
}
