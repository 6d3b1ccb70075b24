//! A verdict in the lines that is off: at the end of one, or at a critical reply.

use crate::review::analysis::position::AnalysedPosition;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::analysis::{player_valuation, settling};
use crate::review::findings::suspect::{Suspect, gives_something_up};
use crate::review::model::fault::{EndError, Fault};
use crate::review::model::verdicts;
use crate::score::PlayerScore;
use crate::tree::{NodeId, Verdict};

/// The end of a line with a verdict that is off by delta. *Stopped short* where the verdict agrees with
/// a count of the pieces once captures have run out: something comes after the last move. *Misjudged*
/// where not even that, or where the position is settled. A counter-sacrifice where what comes is the
/// opponent giving up more than a pawn.
pub(crate) fn detect<'s>(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    place: &'s AnalysedPosition,
) -> Option<Suspect<'s>> {
    let verdict = analysis.verdict(id).filter(|_| analysis.is_end(id))?;
    let stated = stated_and_off(analysis, verdict, place)?;
    let scores = (place.worth, stated);
    let moves = place.expected();
    let Some(next) = moves.first().cloned() else {
        return Some(Suspect::new(id, place, Fault::GameOver, scores));
    };
    let surprised = !place.is_players_turn() && place.worth < stated;
    let fault = Fault::EndOfLine {
        gives_up: surprised && gives_something_up(&place.line, &next),
        error: error(analysis, id, place, verdict),
        next,
    };
    Some(Suspect::new(id, place, fault, scores).proved_by(moves))
}

fn error(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    place: &AnalysedPosition,
    verdict: Verdict,
) -> EndError {
    let slack = analysis.settings.delta.half();
    let pieces = player_valuation::material_view(place);
    let counted_the_pieces = verdicts::agrees(verdict, analysis.player(), pieces, slack);
    if counted_the_pieces && !settling::stays_quiet(&place.line, place.expected()) {
        EndError::StoppedShort
    } else if is_critical_reply(analysis, id) {
        EndError::SeenMisjudged
    } else {
        EndError::Misjudged
    }
}

/// The opponent's critical reply is written, lines follow it, and the verdict that stands at the reply
/// itself is off by delta. Counts as seen. (At the end of a line see [`detect`].)
pub(crate) fn seen_misjudged<'s>(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    place: &'s AnalysedPosition,
) -> Option<Suspect<'s>> {
    let verdict = analysis.verdict(id).filter(|_| !analysis.is_end(id))?;
    if !is_critical_reply(analysis, id) {
        return None;
    }
    let stated = stated_and_off(analysis, verdict, place)?;
    let moves = place.expected();
    let next = moves.first()?.clone();
    let scores = (place.worth, stated);
    Some(Suspect::new(id, place, Fault::SeenMisjudged { next }, scores).proved_by(moves))
}

/// What the verdict says, where it is off and that matters.
fn stated_and_off(
    analysis: &TreeAnalysis<'_>,
    verdict: Verdict,
    place: &AnalysedPosition,
) -> Option<PlayerScore> {
    let player = analysis.player();
    let stated = verdicts::value_of(verdict, player)?;
    let slack = analysis.settings.delta.half();
    let holds = verdicts::agrees(verdict, player, place.worth, slack);
    (!holds && !analysis.is_decided(stated, place.worth)).then_some(stated)
}

/// A written reply of the opponent that is his best one there, or as good.
fn is_critical_reply(analysis: &TreeAnalysis<'_>, id: NodeId) -> bool {
    let parent = analysis.tree.parent(id);
    let before = parent.and_then(|p| analysis.place(p));
    before.filter(|p| !p.is_players_turn()).is_some_and(|p| {
        let reply = analysis.scored(id);
        reply.is_some_and(|m| p.prefers(p.worth, m.worth) <= analysis.settings.equal)
    })
}
