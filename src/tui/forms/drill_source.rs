//! Where a drill comes from, with its solution: nothing that is shown before the lock may take this.

use crate::app::App;
use crate::attempt::{Attempt, Origin};
use crate::drill::Grade;
use crate::text;

/// Where a drill comes from, and its published solution: only after the commit.
pub struct DrillSource {
    pub(crate) title: String,
    pub(crate) source: String,
    pub(crate) lines: Vec<String>,
    pub(crate) note: Option<String>,
    pub(crate) grade: Option<Grade>,
}

impl DrillSource {
    pub(crate) fn of(app: &App, attempt: &Attempt) -> Option<Self> {
        let Origin::Drill(id) = &attempt.opened().origin else {
            return None;
        };
        let (_, drill) = app.drills().find(id).ok()?;
        let tree = &drill.solution;
        let lines = tree
            .leaves()
            .into_iter()
            .map(|leaf| tree.sans(leaf).join(" "));
        Some(Self {
            title: text::dates_in(&drill.title).into_owned(),
            source: text::dates_in(&drill.source).into_owned(),
            lines: lines.collect(),
            note: drill.note.clone(),
            grade: drill.grade,
        })
    }
}
