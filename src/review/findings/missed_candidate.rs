//! Root: the best move was not among the candidates.

use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Fault;
use crate::score::ScoreDiff;
use crate::tree::NodeId;

/// The best unwritten move beats the best written candidate by delta. Where several lie within
/// `equal` of the best they are named together, and only if none of them was written; where there are five or more, none of them had
/// to be found, and it is told only where each written one gives delta away: what was overlooked is what speaks against those.
///
/// Its effect is what it would have gained over the choice: a better move found does not change what
/// the player believed of the choice, but it is the whole of what he lost.
pub(crate) fn detect<'s>(analysis: &'s TreeAnalysis<'_>) -> Option<Suspect<'s>> {
    let root = analysis.root();
    let best = root.unwritten().next()?;
    let written = root.written().next()?;
    let gap = best.worth - written.worth;
    if gap < analysis.settings.delta.half() || analysis.is_decided(best.worth, written.worth) {
        return None;
    }
    let as_good = root.within(best.worth, analysis.settings.equal);
    let others: Vec<_> = as_good.filter(|m| m.mv != best.mv).collect();
    if others.iter().any(|m| m.node.is_some()) {
        return None;
    }
    let fault = Fault::MissedCandidate {
        best: best.mv.clone(),
        equal: others.into_iter().map(|m| m.mv.clone()).collect(),
    };
    if fault.is_one_of_many() && gap < analysis.settings.delta {
        return None;
    }
    // Where no choice can be compared, the best written candidate stands for it.
    let without = analysis.choice_worth().unwrap_or(written.worth);
    let suspect = Suspect::new(NodeId::ROOT, root, fault, (best.worth, written.worth))
        .proved_by(&best.pv)
        .with_effect((best.worth - without).max(ScoreDiff::ZERO));
    Some(suspect)
}
