//! What was detected at one place, before it is asked about again.

use shakmaty::Move;

use crate::board::{Line, line, sacrifice};
use crate::review::analysis::position::AnalysedPosition;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::model::fault::Fault;
use crate::review::model::finding::FindingKind;
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::NodeId;

/// A fault at a place, with what it would cost.
#[derive(Debug, Clone)]
pub(crate) struct Suspect<'s> {
    /// The written node of the place: the resource would stand below it.
    pub at: NodeId,
    /// The position there.
    pub place: &'s AnalysedPosition,
    pub fault: Fault,
    /// What follows, the resource first; empty where there is none.
    pub proof: Vec<Move>,
    /// What the player gets after the resource.
    pub truth: PlayerScore,
    /// What he has without it: by his best written move, or by his verdict.
    pub believed: PlayerScore,
    /// Change of the choice's worth in the player's own tree; for what is about the root, what would have been
    /// gained over the choice. Nothing until it was weighed.
    pub effect: ScoreDiff,
}

impl<'s> Suspect<'s> {
    /// A fault that was not weighed yet.
    pub(crate) fn new(
        at: NodeId,
        place: &'s AnalysedPosition,
        fault: Fault,
        (truth, believed): (PlayerScore, PlayerScore),
    ) -> Self {
        Self {
            at,
            place,
            fault,
            proof: Vec::new(),
            truth,
            believed,
            effect: ScoreDiff::ZERO,
        }
    }

    pub(crate) fn proved_by(mut self, moves: &[Move]) -> Self {
        self.proof = moves.to_vec();
        self
    }

    pub(crate) fn with_effect(mut self, effect: ScoreDiff) -> Self {
        self.effect = effect;
        self
    }

    pub(crate) fn kind(&self) -> FindingKind {
        self.fault.kind()
    }

    pub(crate) fn resource(&self) -> Option<&Move> {
        self.fault.resource()
    }

    /// Expected score that the oversight is worth at its place.
    pub(crate) fn gap(&self) -> ScoreDiff {
        (self.truth - self.believed).abs()
    }

    /// The half-move of the resource, from the root; where the game is over, that of its last move.
    pub(crate) fn ply(&self, analysis: &TreeAnalysis<'_>) -> usize {
        analysis.tree.ply(self.at) + usize::from(self.fault != Fault::GameOver)
    }

    /// The written node that cannot be played as it was meant.
    pub(crate) fn illegal_node(&self) -> Option<NodeId> {
        match self.fault {
            Fault::IllegalMove { node, .. } => Some(node),
            Fault::FalseMate { .. } => Some(self.at),
            _ => None,
        }
    }

    /// The resource in SAN; an impossible move as typed, and the last move where the game is over.
    pub(crate) fn resource_text(&self, analysis: &TreeAnalysis<'_>) -> String {
        match (&self.fault, self.resource()) {
            (_, Some(mv)) => line::san(self.place.line.position(), mv),
            (Fault::IllegalMove { node, .. }, None) => analysis.tree.san(*node),
            (_, None) => analysis.tree.san(self.at),
        }
    }
}

/// True where the move gives up more than a pawn.
pub(crate) fn gives_something_up(line: &Line, mv: &Move) -> bool {
    sacrifice::offer(line.position(), mv).is_some_and(|o| o.is_sacrifice())
}
