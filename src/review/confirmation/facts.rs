//! One fact, one finding: what rests on the same resource, or is the consequence of another finding, is told with
//! it.

use shakmaty::Move;

use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Fault;
use crate::tree::NodeId;

/// How a finding is contained in another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Within {
    /// The same move was overlooked at another place: that place is named.
    SameMove,
    /// It is what follows from the other, which names the cause.
    Consequence,
}

/// How `other` is told with `told`, where it is.
pub(crate) fn within(
    analysis: &TreeAnalysis<'_>,
    told: &Suspect<'_>,
    other: &Suspect<'_>,
) -> Option<Within> {
    if is_consequence(analysis, told, other) {
        return Some(Within::Consequence);
    }
    is_same_move(analysis, told, other).then_some(Within::SameMove)
}

/// The candidate was rejected, and so another was chosen, for a fear without ground; and the verdict that the fear
/// rests on is wrong for the same reason.
fn is_consequence(analysis: &TreeAnalysis<'_>, told: &Suspect<'_>, other: &Suspect<'_>) -> bool {
    if !matches!(told.fault, Fault::FearedReply { .. }) {
        return false;
    }
    let candidate = analysis.tree.path(told.at).first().copied();
    match other.fault {
        Fault::WrongChoice { node, .. } => candidate == Some(node),
        Fault::EndOfLine { .. } | Fault::SeenMisjudged { .. } => {
            analysis.above(other.at).contains(&told.at)
        }
        _ => false,
    }
}

/// The same man makes the same move for the same side, at places under the same candidate.
fn is_same_move(analysis: &TreeAnalysis<'_>, told: &Suspect<'_>, other: &Suspect<'_>) -> bool {
    let is_told_by_move = |s: &Suspect<'_>| {
        matches!(
            s.fault,
            Fault::MissedReply { .. }
                | Fault::MissedResource { .. }
                | Fault::EndOfLine { .. }
                | Fault::SeenMisjudged { .. }
                | Fault::MissedThreat { .. }
        )
    };
    let first = |at: NodeId| analysis.tree.path(at).first().copied();
    let both_chosen = analysis.is_under_choice(told.at) && analysis.is_under_choice(other.at);
    let alike = match (told.resource(), other.resource()) {
        (Some(a), Some(b)) => is_alike(a, b),
        _ => false,
    };
    alike
        && is_told_by_move(told)
        && is_told_by_move(other)
        && told.place.line.turn() == other.place.line.turn()
        && (told.truth < told.believed) == (other.truth < other.believed)
        && (both_chosen || first(told.at) == first(other.at))
}

/// The same man from the same square to the same square, whatever stands there to be taken.
pub(crate) fn is_alike(a: &Move, b: &Move) -> bool {
    (a.role(), a.from(), a.to(), a.promotion()) == (b.role(), b.from(), b.to(), b.promotion())
}
