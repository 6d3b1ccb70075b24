//! Root: the choice was committed without one reply written.

use crate::review::analysis::player_valuation;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Fault;

/// The game goes on after the choice, no reply to it is written, and it was not marked as a candidate that
/// stands alone on purpose. Counts for nothing by itself: what it cost is told by the other kinds.
pub(crate) fn detect<'s>(analysis: &'s TreeAnalysis<'_>) -> Option<Suspect<'s>> {
    let choice = analysis.choice?;
    let place = analysis.place(choice)?;
    let on_purpose = analysis.tree.node(choice).is_some_and(|node| node.only);
    if on_purpose || !analysis.is_end(choice) {
        return None;
    }
    let reply = place.best()?;
    // Without a verdict he is taken to know what the choice is worth.
    let believed = player_valuation::stated(analysis, choice).unwrap_or(place.worth);
    let fault = Fault::BareCandidate {
        reply: reply.mv.clone(),
    };
    Some(Suspect::new(choice, place, fault, (place.worth, believed)).proved_by(&reply.pv))
}
