//! What is reviewed, and who looks on.

use super::finding::Finding;
use super::notes::Credit;
use crate::attempt::Attempt;
use crate::tree::{NodeId, Tree};

/// What is reviewed: a tree and the move that was chosen in it.
#[derive(Debug, Clone, Copy)]
pub struct ReviewInput<'a> {
    pub tree: &'a Tree,
    /// The candidate the player committed to; `None` where he chose nothing.
    pub choice: Option<NodeId>,
    /// The sitting it comes from; `None` for notes written after the event.
    pub attempt: Option<&'a Attempt>,
    /// Half-moves of the game before the root, where there is a game.
    pub ply_in_game: Option<usize>,
}

/// Who looks on while a review is made.
pub trait ReviewObserver {
    /// Questions answered and asked so far; the second number grows while the review goes deeper.
    fn progress(&mut self, answered: usize, asked: usize);

    /// What held. Told once, before any finding but the one that may be told ahead of all.
    fn right(&mut self, right: &[Credit]) {
        let _ = right;
    }

    /// The sentence that the review opens with. Told once, before the first finding that is told here; it may come before
    /// what held.
    fn opening(&mut self, opening: &str) {
        let _ = opening;
    }

    /// A counted finding that is sure. They come in their final order: the review has the same ones first
    /// among its findings. Those that become sure only at the end are not told here.
    fn finding(&mut self, finding: &Finding) {
        let _ = finding;
    }
}

impl<F: FnMut(usize, usize)> ReviewObserver for F {
    fn progress(&mut self, answered: usize, asked: usize) {
        self(answered, asked);
    }
}
