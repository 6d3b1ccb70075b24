//! Root: a candidate was rejected for a reply that does no harm.

use crate::review::analysis::player_valuation;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Fault;
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::NodeId;

/// A rejected candidate: his verdict rests on a line of his own, and the last reply on it before the verdict is
/// what he feared. It does no harm (the player stays within half of delta of the best), and his verdict is delta
/// lower. Replies further up that line, a recapture say, only lead there and are not blamed; where what he feared
/// does harm, the fault lies with his own move before it. Its effect is what the candidate would have gained over
/// the choice.
pub(crate) fn detect<'s>(analysis: &'s TreeAnalysis<'_>) -> Vec<Suspect<'s>> {
    let candidates = analysis
        .standing(NodeId::ROOT)
        .filter(|c| analysis.choice.is_some() && analysis.choice != Some(*c));
    let feared = candidates.filter_map(|c| feared(analysis, c));
    feared.collect()
}

fn feared<'s>(analysis: &'s TreeAnalysis<'_>, candidate: NodeId) -> Option<Suspect<'s>> {
    let (reply, stated) = last_reply(analysis, candidate)?;
    let place = analysis.place(reply)?;
    let (worth, delta) = (place.worth, analysis.settings.delta);
    if !does_no_harm(analysis, worth)
        || worth - stated < delta
        || analysis.is_decided(worth, stated)
    {
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

/// True where the player stands as well as after his best move, or nearly.
pub(crate) fn does_no_harm(analysis: &TreeAnalysis<'_>, worth: PlayerScore) -> bool {
    analysis.root().worth - worth <= analysis.settings.delta.half()
}

/// The last reply before the verdict on which his judgement of the candidate rests, with that verdict.
fn last_reply(analysis: &TreeAnalysis<'_>, candidate: NodeId) -> Option<(NodeId, PlayerScore)> {
    let mut at = candidate;
    let mut reply = None;
    loop {
        if let Some(stated) = reply.and_then(|_| player_valuation::stated(analysis, at)) {
            return reply.map(|reply| (reply, stated));
        }
        let place = analysis.place(at)?;
        at = player_valuation::main_move(analysis, at)?;
        if !place.is_players_turn() {
            reply = Some(at);
        }
    }
}
