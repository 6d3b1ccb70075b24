//! Further down a line: something better was not written, of his own or as a reply to him.

use shakmaty::Move;

use crate::review::analysis::position::{AnalysedMove, AnalysedPosition};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::{Suspect, gives_something_up};
use crate::review::model::fault::Fault;
use crate::tree::NodeId;

/// Player's turn below the root, something written: his best continuation is not written and beats the
/// best written one by delta.
pub(crate) fn resource<'s>(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    place: &'s AnalysedPosition,
) -> Option<Suspect<'s>> {
    if id == NodeId::ROOT || !place.is_players_turn() {
        return None;
    }
    let fault = |resource| Fault::MissedResource { resource };
    unwritten_and_better(analysis, id, place, fault)
}

/// Opponent's turn, at least one reply written: an unwritten reply leaves the player delta worse than
/// the best written reply does. The most harmful one is told. A counter-sacrifice where that reply
/// gives up more than a pawn.
pub(crate) fn reply<'s>(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    place: &'s AnalysedPosition,
) -> Option<Suspect<'s>> {
    if place.is_players_turn() {
        return None;
    }
    let fault = |reply: Move| Fault::MissedReply {
        gives_up: gives_something_up(&place.line, &reply),
        reply,
    };
    unwritten_and_better(analysis, id, place, fault)
}

fn unwritten_and_better<'s>(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    place: &'s AnalysedPosition,
    fault: impl Fn(Move) -> Fault,
) -> Option<Suspect<'s>> {
    let written = place.written().next()?;
    let best = place.unwritten().next()?;
    is_plainly_better(analysis, place, best, written).then(|| {
        let scores = (best.worth, written.worth);
        Suspect::new(id, place, fault(best.mv.clone()), scores).proved_by(&best.pv)
    })
}

fn is_plainly_better(
    analysis: &TreeAnalysis<'_>,
    place: &AnalysedPosition,
    best: &AnalysedMove,
    written: &AnalysedMove,
) -> bool {
    let gap = place.prefers(best.worth, written.worth);
    gap >= analysis.settings.delta.half() && !analysis.is_decided(best.worth, written.worth)
}
