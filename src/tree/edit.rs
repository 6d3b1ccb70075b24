//! Edits of moves that stand already.

use super::{DEPTH_MAX, EditError, NodeId, Tree, Verdict};
use crate::board::line;
use crate::notation::{self, Reading};

impl Tree {
    /// Sets or clears the verdict on the position after `id`.
    ///
    /// # Errors
    /// There is no such move.
    pub fn set_verdict(&mut self, id: NodeId, verdict: Option<Verdict>) -> Result<(), EditError> {
        self.node_mut(id)?.verdict = verdict;
        Ok(())
    }

    /// Sets the writer's words on `id`; an empty text clears them.
    ///
    /// # Errors
    /// There is no such move.
    pub fn set_comment(&mut self, id: NodeId, comment: &str) -> Result<(), EditError> {
        self.node_mut(id)?.comment = comment.trim().to_owned();
        Ok(())
    }

    /// Puts another text in the place of a written one: a slip of the pen in the middle of a line. What stands
    /// below it stays and is read anew.
    ///
    /// # Errors
    /// The text is no move of any kind, there is no such move, or the same text stands there already.
    pub fn retype(&mut self, id: NodeId, text: &str) -> Result<(), EditError> {
        let text = text.trim();
        let token = notation::parse(text)?;
        let parent = self.node_mut(id)?.parent;
        if self
            .typed_twin(parent, &token)
            .is_some_and(|twin| twin != id)
        {
            return Err(EditError::Twice(text.to_owned()));
        }
        let node = self.node_mut(id)?;
        node.text = text.to_owned();
        node.token = token;
        self.read_again(id);
        self.reread_below(id);
        Ok(())
    }

    /// Strikes a move out, or lets it stand again. What stands below it goes with it.
    ///
    /// # Errors
    /// There is no such move.
    pub fn set_struck(&mut self, id: NodeId, struck: bool) -> Result<(), EditError> {
        self.node_mut(id)?.struck = struck;
        Ok(())
    }

    /// Puts a move at another place among its alternatives, 0 being the first.
    ///
    /// # Errors
    /// There is no such move, or fewer alternatives than `place` asks for.
    pub fn reorder(&mut self, id: NodeId, place: usize) -> Result<(), EditError> {
        let parent = self.node_mut(id)?.parent;
        let siblings = self.siblings(parent);
        if place >= siblings.len() {
            return Err(EditError::NoSuchPlace {
                node: id.0,
                wanted: place + 1,
            });
        }
        siblings.retain(|s| *s != id);
        siblings.insert(place, id);
        Ok(())
    }

    /// Says that a move is named as a candidate only, or that it is to have a line after all.
    ///
    /// # Errors
    /// There is no such move.
    pub fn set_only(&mut self, id: NodeId, only: bool) -> Result<(), EditError> {
        self.node_mut(id)?.only = only;
        Ok(())
    }

    /// Says that `id` leads to the same position as another written move, or takes it back. Whether it
    /// does is not asked.
    ///
    /// # Errors
    /// One of the two is no written move, or both are the same one.
    pub fn set_same_as(&mut self, id: NodeId, other: Option<NodeId>) -> Result<(), EditError> {
        if let Some(other) = other {
            self.node_mut(other)?;
        }
        if other == Some(id) {
            return Err(EditError::BelowItself);
        }
        self.node_mut(id)?.same_as = other;
        Ok(())
    }

    /// Puts a move with all that stands below it in answer to another position of the tree.
    ///
    /// # Errors
    /// There is no such move or place, the place is below the move, the same text stands there, or the
    /// lines would become too long.
    pub fn relocate(&mut self, id: NodeId, parent: NodeId) -> Result<(), EditError> {
        let node = self.node_mut(id)?.clone();
        self.check(parent)?;
        if self.path(parent).contains(&id) {
            return Err(EditError::BelowItself);
        }
        if node.parent == parent {
            return Ok(());
        }
        if self.typed_twin(parent, &node.token).is_some() {
            return Err(EditError::Twice(node.text));
        }
        if self.ply(parent) + self.height(id) > DEPTH_MAX {
            return Err(EditError::TooDeep);
        }
        self.siblings(node.parent).retain(|s| *s != id);
        self.siblings(parent).push(id);
        self.node_mut(id)?.parent = parent;
        self.read_again(id);
        self.reread_below(id);
        Ok(())
    }

    /// Half-moves of the longest line from `id` on, itself counted.
    fn height(&self, id: NodeId) -> usize {
        let mut longest = 0;
        let mut todo = vec![(id, 1)];
        while let Some((at, deep)) = todo.pop() {
            longest = longest.max(deep);
            todo.extend(self.children(at).iter().map(|c| (*c, deep + 1)));
        }
        longest
    }

    /// Settles what an ambiguous text means, and reads what stands below it.
    ///
    /// # Errors
    /// There is no such move, or `uci` is none of its meanings.
    pub fn clarify(&mut self, id: NodeId, uci: &str) -> Result<(), EditError> {
        let node = self.node_mut(id)?;
        let meant = match &node.reading {
            Reading::Ambiguous(moves) => moves.iter().find(|m| line::uci(m) == uci),
            _ => None,
        };
        let mv = meant
            .ok_or_else(|| EditError::NotAMeaning(uci.to_owned()))?
            .clone();
        node.reading = Reading::Legal(mv);
        self.reread_below(id);
        Ok(())
    }

    fn reread_below(&mut self, id: NodeId) {
        let mut todo = self.children(id).to_vec();
        while let Some(at) = todo.pop() {
            self.read_again(at);
            todo.extend_from_slice(self.children(at));
        }
    }

    fn read_again(&mut self, id: NodeId) {
        let line = self.parent(id).and_then(|p| self.line(p));
        if let Ok(node) = self.node_mut(id) {
            node.reading = match line {
                Some(line) => notation::resolve(&node.token, &line),
                None => Reading::Unplaced,
            };
        }
    }
}
