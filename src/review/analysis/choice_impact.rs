//! What a move that was overlooked does to the choice's worth in the player's own tree.
//!
//! The tree is backed up once as the player left it. A move that is put into it changes only what stands above it,
//! so that trees of thousands of moves with as many findings are weighed in no time.

use std::collections::{BTreeMap, BTreeSet};

use crate::review::analysis::player_valuation;
use crate::review::analysis::tree_analysis::Survey;
use crate::tree::NodeId;

/// A move put into the player's tree for the sake of argument: below `at`, worth `worth` to him.
#[derive(Clone, Copy)]
pub(crate) struct Added {
    pub at: NodeId,
    pub worth: f64,
}

/// The player's tree with some moves granted.
pub(crate) struct Granted<'s, 'a> {
    survey: &'s Survey<'a>,
    added: BTreeMap<NodeId, Vec<f64>>,
    /// Values of the places that have a granted move below them; all others are worth what they were.
    values: BTreeMap<NodeId, f64>,
}

impl<'s, 'a> Granted<'s, 'a> {
    pub(crate) fn new(survey: &'s Survey<'a>, moves: &[Added]) -> Self {
        let mut granted = Self {
            survey,
            added: BTreeMap::new(),
            values: BTreeMap::new(),
        };
        let mut above = BTreeSet::new();
        for added in moves {
            let worth = player_valuation::as_stated(added.worth);
            granted.added.entry(added.at).or_default().push(worth);
            above.extend(survey.tree.path(added.at));
        }
        for id in player_valuation::from_the_ends(survey, above.into_iter()) {
            let value = granted.backed_up(id, None);
            granted.values.insert(id, value);
        }
        granted
    }

    fn value(&self, id: NodeId) -> f64 {
        let known = self.values.get(&id).copied();
        known.unwrap_or_else(|| self.survey.own(id))
    }

    /// The place's value by what stands and is granted below it, `instead` standing for the value of one of its
    /// moves.
    fn backed_up(&self, id: NodeId, instead: Option<(NodeId, f64)>) -> f64 {
        let standing = self.survey.tree.standing(id);
        let standing = standing.filter(|c| self.survey.place(*c).is_some());
        let written = standing.map(|c| match instead {
            Some((node, value)) if node == c => value,
            _ => self.value(c),
        });
        let granted = self.added.get(&id).into_iter().flatten().copied();
        player_valuation::backed_up(self.survey, id, written.chain(granted))
    }

    /// How much the choice's worth changes once one more move is added.
    pub(crate) fn effect(&self, added: Added) -> f64 {
        let here = self.value(added.at);
        let has_more = self.added.contains_key(&added.at);
        self.change(added, here, has_more)
    }

    /// The same for a move that is granted already, without the others at its place and further down its line: they
    /// would say the same again.
    pub(crate) fn effect_alone(&self, added: Added) -> f64 {
        self.change(added, self.survey.own(added.at), false)
    }

    /// `here` is the value of the place without the move, by its `written` moves or by more that is granted there.
    fn change(&self, added: Added, here: f64, has_more: bool) -> f64 {
        let survey = self.survey;
        let Some(choice) = survey.choice.filter(|_| survey.is_under_choice(added.at)) else {
            return 0.0;
        };
        let written = survey.tree.standing(added.at);
        let is_end = !has_more && written.filter(|c| survey.place(*c).is_some()).count() == 0;
        let before = (!is_end).then_some(here);
        let worth = player_valuation::as_stated(added.worth);
        let there =
            player_valuation::backed_up(survey, added.at, before.into_iter().chain([worth]));
        let up = |value: f64| {
            let mut path = survey.tree.path(added.at).into_iter().rev();
            let mut below = path.next().map(|at| (at, value));
            for id in path {
                below = Some((id, self.backed_up(id, below)));
            }
            below
                .filter(|(top, _)| *top == choice)
                .map(|(_, value)| value)
        };
        match (up(here), up(there)) {
            (Some(here), Some(there)) => (there - here).abs(),
            _ => 0.0,
        }
    }
}
