//! What could not be asked before the lock: which of several moves a text means.

use crate::app::AttemptSession;
use crate::board::line;
use crate::notation::Reading;
use crate::tree::{NodeId, Tree};
use crate::tui::widgets::tree_cursor::as_typed;

/// One text that fits several moves: the move, and each meaning as SAN and UCI.
pub struct Clarification {
    pub node: NodeId,
    pub meanings: Vec<(String, String)>,
}

impl Clarification {
    /// The first one that is left to ask; `left_open` are moves that are to stay ambiguous.
    #[must_use]
    pub fn of(sitting: &AttemptSession, left_open: &[NodeId]) -> Option<Self> {
        let tree = sitting.tree();
        let ambiguous = sitting.ambiguous();
        let node = ambiguous.into_iter().find(|n| !left_open.contains(n))?;
        let Reading::Ambiguous(moves) = &tree.node(node)?.reading else {
            return None;
        };
        let before = tree.line(tree.parent(node)?)?;
        let meanings = moves
            .iter()
            .map(|mv| (line::san(before.position(), mv), line::uci(mv)))
            .collect();
        Some(Self { node, meanings })
    }

    /// `Which move did you mean by Nd2, after e4?`
    #[must_use]
    pub fn words(&self, tree: &Tree) -> String {
        match as_typed(tree, self.node).split_last() {
            Some((text, [])) => tr!("Which move did you mean by {text}?"),
            Some((text, before)) => {
                let before = before.join(" ");
                tr!("Which move did you mean by {text}, after {before}?")
            }
            None => String::new(),
        }
    }
}
