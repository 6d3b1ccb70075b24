//! What a move that was overlooked does to the choice's worth in the player's own tree.
//!
//! The tree is backed up once as the player left it. A move that is put into it changes only what stands above it,
//! so that trees of thousands of moves with as many findings are weighed in no time.

use std::collections::{BTreeMap, BTreeSet};

use crate::review::analysis::player_valuation;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::model::verdicts;
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::NodeId;

/// A move put into the player's tree for the sake of argument: below `at`, worth `worth` to him.
#[derive(Clone, Copy)]
pub(crate) struct Added {
    pub at: NodeId,
    pub worth: PlayerScore,
}

/// The player's tree with some moves granted.
pub(crate) struct Granted<'s, 'a> {
    analysis: &'s TreeAnalysis<'a>,
    moves: Vec<Added>,
    added: BTreeMap<NodeId, Vec<PlayerScore>>,
    /// Values of the places that have a granted move below them; all others are worth what they were.
    values: BTreeMap<NodeId, PlayerScore>,
}

impl<'s, 'a> Granted<'s, 'a> {
    pub(crate) fn new(analysis: &'s TreeAnalysis<'a>, moves: &[Added]) -> Self {
        let mut granted = Self {
            analysis,
            moves: moves.to_vec(),
            added: BTreeMap::new(),
            values: BTreeMap::new(),
        };
        let mut above = BTreeSet::new();
        for added in moves {
            let worth = verdicts::as_stated(added.worth);
            for way in analysis.ways(added.at) {
                granted.added.entry(way).or_default().push(worth);
            }
            if analysis.is_plain() {
                above.extend(analysis.tree.path(added.at));
            } else {
                above.extend(analysis.above(added.at));
            }
        }
        for id in player_valuation::from_the_ends(analysis, above.into_iter()) {
            let value = granted.backed_up(id, None);
            granted.values.extend(value.map(|v| (id, v)));
        }
        granted
    }

    /// `None` where there is no position.
    fn value(&self, id: NodeId) -> Option<PlayerScore> {
        let known = self.values.get(&id).copied();
        known.or_else(|| self.analysis.own(id))
    }

    /// The place's value by what stands and is granted below it, `instead` standing for the value of one of its
    /// moves; `None` where there is no position.
    fn backed_up(&self, id: NodeId, instead: Option<(NodeId, PlayerScore)>) -> Option<PlayerScore> {
        let standing = self.analysis.standing(id);
        let written = standing.filter_map(|c| match instead {
            Some((node, value)) if node == c => Some(value),
            _ => self.value(c),
        });
        let granted = self.added.get(&id).into_iter().flatten().copied();
        player_valuation::backed_up(self.analysis, id, written.chain(granted))
    }

    /// How much the choice's worth changes once one more move is added.
    pub(crate) fn effect(&self, added: Added) -> ScoreDiff {
        if !self.analysis.is_plain() {
            return self.change_by_all_ways(&self.moves, added);
        }
        let here = self.value(added.at);
        let has_more = self.added.contains_key(&added.at);
        self.change(added, here, has_more)
    }

    /// The same for a move that is granted already, without the others at its place and further down its line: they
    /// would say the same again.
    pub(crate) fn effect_alone(&self, added: Added) -> ScoreDiff {
        if self.analysis.is_plain() {
            return self.change(added, self.analysis.own(added.at), false);
        }
        let moves = self.moves.iter().copied();
        let beside = moves.filter(|m| !self.analysis.above(m.at).contains(&added.at));
        self.change_by_all_ways(&beside.collect::<Vec<_>>(), added)
    }

    /// Where orders of moves meet, what is above a place is more than its path: both trees are backed up whole.
    fn change_by_all_ways(&self, granted: &[Added], added: Added) -> ScoreDiff {
        let analysis = self.analysis;
        let choice = analysis.choice;
        let Some(choice) = choice.filter(|_| analysis.is_under_choice(added.at)) else {
            return ScoreDiff::ZERO;
        };
        let without = Self::new(analysis, granted);
        let with = Self::new(analysis, &[granted, &[added]].concat());
        match (without.value(choice), with.value(choice)) {
            (Some(without), Some(with)) => (with - without).abs(),
            _ => ScoreDiff::ZERO,
        }
    }

    /// `here` is the value of the place without the move, by its `written` moves or by more that is granted there.
    fn change(&self, added: Added, here: Option<PlayerScore>, has_more: bool) -> ScoreDiff {
        let analysis = self.analysis;
        let choice = analysis.choice;
        let Some(choice) = choice.filter(|_| analysis.is_under_choice(added.at)) else {
            return ScoreDiff::ZERO;
        };
        let mut written = analysis.standing(added.at);
        let is_end = !has_more && !written.any(|c| analysis.has_position(c));
        let before = here.filter(|_| !is_end);
        let worth = verdicts::as_stated(added.worth);
        let following = before.into_iter().chain([worth]);
        let there = player_valuation::backed_up(analysis, added.at, following);
        let up = |value| self.up_to(choice, added.at, value);
        match (here.and_then(up), there.and_then(up)) {
            (Some(here), Some(there)) => (there - here).abs(),
            // Nothing leads from there to the choice.
            _ => ScoreDiff::ZERO,
        }
    }

    /// What the choice is worth where the place `at`, on one of its lines, is worth `value`.
    fn up_to(&self, choice: NodeId, at: NodeId, value: PlayerScore) -> Option<PlayerScore> {
        let mut path = self.analysis.tree.path(at).into_iter().rev();
        let mut below = (path.next()?, value);
        for id in path {
            below = (id, self.backed_up(id, Some(below))?);
        }
        (below.0 == choice).then_some(below.1)
    }
}
