//! What is known of a written tree: its positions, its choice and the verdicts that stand in it.

use std::collections::{BTreeMap, BTreeSet};

use shakmaty::{Color, Move};

use crate::judge::JudgeError;
use crate::review::analysis::joined::Joined;
use crate::review::analysis::position::{AnalysedMove, AnalysedPosition};
use crate::review::model::input::ReviewInput;
use crate::review::model::settings::Settings;
use crate::review::model::verdicts;
use crate::score::PlayerScore;
use crate::tree::{NodeId, Sign, Tree, Verdict};

/// The truth about a written tree, as far as it was asked.
pub(crate) struct TreeAnalysis<'a> {
    pub tree: &'a Tree,
    /// The move that was chosen, where it can be played.
    pub choice: Option<NodeId>,
    /// What stands below the move that was chosen, possible or not, by any order of moves.
    chosen_part: BTreeSet<NodeId>,
    /// Which written moves lead to one place.
    joined: Joined,
    pub settings: &'a Settings,
    /// The root and every standing move that has a position, asked about or not.
    positions: BTreeSet<NodeId>,
    pub places: BTreeMap<NodeId, AnalysedPosition>,
    /// What each place is worth by the player's own verdicts.
    pub own: BTreeMap<NodeId, PlayerScore>,
    /// The opponent's best move at the root if the player passed; `None` where nothing was chosen
    /// or the player is in check.
    pub threat: Option<Move>,
}

impl<'a> TreeAnalysis<'a> {
    /// The tree before anything was asked about it; `places` are filled by
    /// [`stages`](crate::review::analysis::stages).
    pub(crate) fn unasked(written: &ReviewInput<'a>, settings: &'a Settings) -> Self {
        let tree = written.tree;
        let joined = Joined::of(tree);
        let below = |c| joined.below(tree, c);
        let legal = written.choice.and_then(|c| tree.legal(c));
        // Of two spellings the first stands for both.
        let choice = joined
            .standing(tree, NodeId::ROOT)
            .find(|c| legal.is_some() && tree.legal(*c) == legal);
        Self {
            tree,
            choice,
            chosen_part: written.choice.map(below).unwrap_or_default(),
            joined,
            settings,
            positions: positions(tree),
            places: BTreeMap::new(),
            own: BTreeMap::new(),
            threat: None,
        }
    }

    pub(crate) fn place(&self, id: NodeId) -> Option<&AnalysedPosition> {
        self.places.get(&id)
    }

    /// The same of a written move that was asked about, as every legal one that stands was.
    pub(crate) fn asked(&self, id: NodeId) -> Result<&AnalysedPosition, JudgeError> {
        self.place(id).ok_or(JudgeError::Unanswered)
    }

    /// The root place; it is always there, since the root is always a position.
    #[allow(clippy::indexing_slicing)]
    pub(crate) fn root(&self) -> &AnalysedPosition {
        &self.places[&NodeId::ROOT]
    }

    /// The root and every standing move that has a position, asked about or not.
    pub(crate) fn positions(&self) -> impl Iterator<Item = NodeId> + '_ {
        self.positions.iter().copied()
    }

    /// True where the move stands and all on the way to it can be played.
    pub(crate) fn has_position(&self, id: NodeId) -> bool {
        self.positions.contains(&id)
    }

    /// Whose turn it is after a move; `None` where there is no position.
    pub(crate) fn is_players_turn(&self, id: NodeId) -> Option<bool> {
        let is_even = || self.tree.ply(id).is_multiple_of(2);
        self.has_position(id).then(is_even)
    }

    /// True where moves are compared: where something was written, where a verdict stands to be
    /// tested, and at the ends of the choice's lines, which the choice's worth rests on.
    pub(crate) fn is_compared(&self, id: NodeId) -> bool {
        id == NodeId::ROOT
            || self.is_under_choice(id)
            || !self.is_end(id)
            || self.verdict(id).is_some()
    }

    /// The places where moves are compared.
    pub(crate) fn compared(&self) -> impl Iterator<Item = NodeId> + '_ {
        let ids = self.places.keys().copied();
        ids.filter(|id| self.is_compared(*id))
    }

    /// True where the written line ends.
    pub(crate) fn is_end(&self, id: NodeId) -> bool {
        self.standing(id).next().is_none()
    }

    /// The verdict that stands at a node: the player's sign or percentage; where he set none, 'level' for an
    /// end that his own words close with a repetition or a perpetual check.
    pub(crate) fn verdict(&self, id: NodeId) -> Option<Verdict> {
        let nodes = || self.ways(id).filter_map(|way| self.tree.node(way));
        let closed = || {
            let closed = self.is_end(id) && nodes().any(|n| verdicts::is_closed(&n.comment));
            closed.then_some(Verdict::Sign(Sign::Level))
        };
        nodes().find_map(|n| n.verdict).or_else(closed)
    }

    /// The nodes that lead to the place of `id`, itself first.
    pub(crate) fn ways(&self, id: NodeId) -> impl Iterator<Item = NodeId> + '_ {
        self.joined.ways(id)
    }

    /// The standing moves at the place of `id`, by whichever way they were written: each legal move once.
    pub(crate) fn standing(&self, id: NodeId) -> impl Iterator<Item = NodeId> + '_ {
        self.joined.standing(self.tree, id)
    }

    /// Every place from which that of `id` is reached, itself with them.
    pub(crate) fn above(&self, id: NodeId) -> BTreeSet<NodeId> {
        self.joined.above(self.tree, id)
    }

    /// True where every place has one way and every move one spelling.
    pub(crate) fn is_plain(&self) -> bool {
        self.joined.is_plain()
    }

    /// The written move `id` among the scored ones of the place it was written at.
    pub(crate) fn scored(&self, id: NodeId) -> Option<&AnalysedMove> {
        let mv = self.tree.legal(id)?;
        let place = self.place(self.tree.parent(id)?)?;
        place.written().find(|m| m.mv == *mv)
    }

    pub(crate) fn player(&self) -> Color {
        self.tree.root().player()
    }

    /// The choice among the root's scored moves.
    pub(crate) fn chosen(&self) -> Option<&AnalysedMove> {
        self.choice.and_then(|c| self.root().move_at(c))
    }

    pub(crate) fn choice_worth(&self) -> Option<PlayerScore> {
        self.chosen().map(|m| m.worth)
    }

    /// What a place is worth by the player's own verdicts; `None` where there is no position.
    pub(crate) fn own(&self, id: NodeId) -> Option<PlayerScore> {
        self.own.get(&id).copied()
    }

    /// True where `id` stands in the choice's part of the tree, or an order of moves leads from the choice to its
    /// place.
    pub(crate) fn is_under_choice(&self, id: NodeId) -> bool {
        self.chosen_part.contains(&id)
    }

    /// True where both scores lie so far on one side that the difference decides nothing, or are won (lost)
    /// both and differ only by more than any verdict can say.
    pub(crate) fn is_decided(&self, a: PlayerScore, b: PlayerScore) -> bool {
        let bar = self.settings.decided;
        let beyond = a.min(b) >= bar || a.max(b) <= bar.of_opponent();
        beyond || verdicts::say_the_same(a, b, self.settings.delta)
    }
}

fn positions(tree: &Tree) -> BTreeSet<NodeId> {
    let nodes = tree.nodes().map(|(id, _)| id);
    let standing = nodes.filter(|id| tree.stands(*id) && tree.line(*id).is_some());
    std::iter::once(NodeId::ROOT).chain(standing).collect()
}
