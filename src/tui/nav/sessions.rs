//! Attempts that go on from screen to screen. One screen owns one at a time and hands it on in its
//! route; a locked one can no longer come back to where trees are written.

use std::collections::HashSet;

use crate::app::AttemptSession;
use crate::attempt::BoardVisibility;
use crate::notation::Letters;
use crate::tree::{NodeId, Tree};
use crate::tui::input::action::Action;
use crate::tui::nav::tour_step::TourStep;
use crate::tui::widgets::board::BoardAppearance;
use crate::tui::widgets::clock;
use crate::tui::widgets::line_editor::LineEditor;

/// A tree while it is written, with everything that is as it was after a pause or a look at the end.
pub struct OpenAttempt {
    pub sitting: AttemptSession,
    pub label: String,
    pub look: BoardAppearance,
    pub cursor: NodeId,
    pub line: LineEditor,
    /// Whose piece letters are typed.
    pub letters: Letters,
    pub candidates_only: bool,
    /// Moves below which nothing is shown; only here, never kept.
    pub folded: HashSet<NodeId>,
    /// A move that was taken, and what for.
    pub held: Option<(NodeId, Action)>,
}

impl OpenAttempt {
    #[must_use]
    pub fn new(
        sitting: AttemptSession,
        label: String,
        look: BoardAppearance,
        letters: Letters,
    ) -> Self {
        let hidden = sitting.attempt().opened().sight == BoardVisibility::None;
        // A sitting that is taken up again goes on below what was written last.
        let last = u32::try_from(sitting.tree().len()).unwrap_or(0);
        Self {
            sitting,
            label,
            look: BoardAppearance { hidden, ..look },
            cursor: NodeId(last),
            line: LineEditor::default(),
            letters,
            candidates_only: false,
            folded: HashSet::new(),
            held: None,
        }
    }

    /// What hides the cursor is unfolded.
    pub(crate) fn show_cursor(&mut self) {
        for node in self.sitting.tree().path(self.cursor) {
            if node != self.cursor {
                self.folded.remove(&node);
            }
        }
    }

    /// The clock and its note: what changes without a key.
    #[must_use]
    pub fn time_text(&self) -> String {
        let left = self.sitting.left_ms();
        let clock = clock::clock(left, self.sitting.used_ms());
        format!("{clock}{}", self.time_note().unwrap_or_default())
    }

    pub(crate) fn time_note(&self) -> Option<&'static str> {
        let opened = self.sitting.attempt().opened();
        let note = clock::time_note(self.sitting.left_ms(), opened.budget_ms);
        match (opened.quick, self.sitting.left_ms()) {
            (Some(_), Some(..0)) => Some(crate::translation::text(clock::TIME_OVER)),
            _ => note,
        }
    }

    /// The step of the tour: how far the tree has come.
    #[must_use]
    pub fn tour_step(&self) -> TourStep {
        let tree = self.sitting.tree();
        match tree.children(NodeId::ROOT).len() {
            0 => TourStep::FirstMove,
            1 if !has_line(tree) => TourStep::FirstLine,
            1 => TourStep::NextCandidate,
            _ => TourStep::Choose,
        }
    }
}

/// True where a reply is written and something is judged.
fn has_line(tree: &Tree) -> bool {
    tree.len() > 1 && tree.nodes().any(|(_, node)| node.verdict.is_some())
}

/// A tree that is final; its review has not been opened.
pub struct LockedAttempt {
    pub sitting: AttemptSession,
    pub label: String,
}
