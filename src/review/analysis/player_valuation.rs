//! What the player's own verdicts make of his tree.
//!
//! His tree is backed up as he would do it himself: a line is worth what he said of its end, he
//! chooses at his turns, the opponent at his. Where he said nothing of an end, the truth stands in,
//! so that silence is never held against him.

use std::collections::BTreeMap;

use crate::board::{exchange, sacrifice};
use crate::review::analysis::position::{AnalysedPosition, is_better};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::model::verdicts;
use crate::score::{MoverScore, PlayerScore};
use crate::tree::NodeId;

/// What every place is worth by his own tree and verdicts;
/// [`choice_impact`](crate::review::analysis::choice_impact) puts moves into it.
pub(crate) fn values(analysis: &TreeAnalysis<'_>) -> BTreeMap<NodeId, PlayerScore> {
    let mut values = BTreeMap::new();
    for id in from_the_ends(analysis, analysis.positions()) {
        let standing = analysis.standing(id);
        let below = standing.filter_map(|c| values.get(&c).copied());
        let value = backed_up(analysis, id, below);
        values.extend(value.map(|v| (id, v)));
    }
    values
}

/// The nodes, those further down first.
pub(crate) fn from_the_ends(
    analysis: &TreeAnalysis<'_>,
    nodes: impl Iterator<Item = NodeId>,
) -> Vec<NodeId> {
    let mut nodes: Vec<NodeId> = nodes.collect();
    nodes.sort_by_key(|id| std::cmp::Reverse(analysis.tree.ply(*id)));
    nodes
}

/// A place is worth the best of what follows for the side to move; an end what he said of it. `None` where
/// there is no position, and where nothing was said of an end that was not asked about.
pub(crate) fn backed_up(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    following: impl Iterator<Item = PlayerScore>,
) -> Option<PlayerScore> {
    let better = is_better(analysis.is_players_turn(id)?);
    let best = following.reduce(|a, b| if better(b, a) { b } else { a });
    let said = || stated(analysis, id).or_else(|| analysis.place(id).map(unsaid));
    best.or_else(said)
}

/// What he is taken to think of an end he did not judge: the better of the truth and the pieces.
fn unsaid(place: &AnalysedPosition) -> PlayerScore {
    verdicts::as_stated(material_view(place).max(place.worth))
}

/// The written move that his own verdicts make the best at a place, the first among equals.
pub(crate) fn main_move(analysis: &TreeAnalysis<'_>, at: NodeId) -> Option<NodeId> {
    let better = is_better(analysis.is_players_turn(at)?);
    let standing = analysis.standing(at);
    let valued = standing.filter_map(|c| Some((c, analysis.own(c)?)));
    let best = valued.reduce(|a, b| if better(b.1, a.1) { b } else { a });
    best.map(|(node, _)| node)
}

/// His verdict on the position after `id`, as an expected score.
pub(crate) fn stated(analysis: &TreeAnalysis<'_>, id: NodeId) -> Option<PlayerScore> {
    verdicts::value_of(analysis.verdict(id)?, analysis.player())
}

/// His first verdict at the node or below, as an expected score.
pub(crate) fn stated_below(analysis: &TreeAnalysis<'_>, id: NodeId) -> Option<PlayerScore> {
    let mut standing = analysis.standing(id);
    stated(analysis, id).or_else(|| standing.find_map(|c| stated_below(analysis, c)))
}

/// True where a verdict stands at the node or below it.
pub(crate) fn is_judged(analysis: &TreeAnalysis<'_>, id: NodeId) -> bool {
    let mut standing = analysis.standing(id);
    analysis.verdict(id).is_some() || standing.any(|c| is_judged(analysis, c))
}

/// What a count of the pieces says, once captures have run out: the expected score of the player from
/// material alone, a pawn being 100 centipawns.
pub(crate) fn material_view(place: &AnalysedPosition) -> PlayerScore {
    let pos = place.line.position();
    let player = place.line.player();
    let to_come = exchange::best_capture(pos).map_or(0, |(won, _)| won);
    let sign = if place.is_players_turn() { 1 } else { -1 };
    let pawns = sacrifice::balance(pos, player) + sign * to_come;
    MoverScore::from_centipawns(pawns * 100).for_player(player, player)
}
