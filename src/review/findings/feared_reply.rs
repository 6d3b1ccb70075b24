//! Root: a candidate was rejected for a reply that does no harm.

use crate::review::analysis::player_valuation;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Fault;
use crate::score::ScoreDiff;
use crate::tree::NodeId;

/// A rejected candidate: the reply that he wrote against it does no harm (the player stays within half
/// of delta of the best), and his verdict after it is delta lower. Its effect is what the candidate
/// would have gained over the choice.
pub(crate) fn detect<'s>(analysis: &'s TreeAnalysis<'_>) -> Vec<Suspect<'s>> {
    let candidates = analysis
        .tree
        .standing(NodeId::ROOT)
        .filter(|c| analysis.choice.is_some() && analysis.choice != Some(*c));
    let replies = candidates.flat_map(|c| analysis.tree.standing(c).map(move |r| (c, r)));
    let feared = replies.filter_map(|(c, r)| feared(analysis, c, r));
    feared.collect()
}

fn feared<'s>(
    analysis: &'s TreeAnalysis<'_>,
    candidate: NodeId,
    reply: NodeId,
) -> Option<Suspect<'s>> {
    let place = analysis.place(reply)?;
    let stated = player_valuation::stated_below(analysis, reply)?;
    let (worth, delta) = (place.worth, analysis.settings.delta);
    let harmless = analysis.root().worth - worth <= delta.half();
    if !harmless || worth - stated < delta || analysis.is_decided(worth, stated) {
        return None;
    }
    let moves = place.expected();
    let answer = moves.first()?.clone();
    let better = analysis.place(candidate)?.worth - analysis.choice_worth()?;
    let suspect = Suspect::new(reply, place, Fault::FearedReply { answer }, (worth, stated))
        .proved_by(moves)
        .with_effect(better.max(ScoreDiff::ZERO));
    Some(suspect)
}
