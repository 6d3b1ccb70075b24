//! What a search proposes to the player instead of his own moves must stand against every check, capture
//! and promotion of the opponent, as his own moves have to: one search's pruning invents oversights.

use std::collections::BTreeMap;

use shakmaty::Move;

use crate::judge::JudgeError;
use crate::review::analysis::judge_client::{JudgeClient, played};
use crate::review::analysis::one_by_one::{self, Wanted};
use crate::review::analysis::position::{AnalysedMove, AnalysedPosition};
use crate::review::model::thresholds::{FORCING_ROUNDS, PROPOSALS};
use crate::score::ScoreDiff;
use crate::tree::NodeId;

/// Lowers each proposed move that is `near` better than what was written to what the opponent's most harmful
/// forcing reply leaves of it.
pub(crate) fn proposals(
    places: &mut BTreeMap<NodeId, AnalysedPosition>,
    near: ScoreDiff,
    client: &mut JudgeClient<'_>,
) -> Result<(), JudgeError> {
    let players = places.iter().filter(|(_, p)| p.is_players_turn());
    let mut moves: Vec<(NodeId, Move)> = Vec::new();
    let mut wanted: Vec<Wanted> = Vec::new();
    for (id, place) in players {
        for proposed in proposed(place, near) {
            moves.push((*id, proposed.mv.clone()));
            wanted.push(Wanted {
                line: played(&place.line, &proposed.mv)?,
                known: Vec::new(),
                bar: proposed.worth,
            });
        }
    }
    let replies = one_by_one::searched(&wanted, &FORCING_ROUNDS, client)?;
    for ((id, mv), replies) in moves.into_iter().zip(replies) {
        let searched = replies.into_iter().filter(|r| !r.rough);
        let worst = searched.min_by(|a, b| a.alone.total_cmp(&b.alone));
        let (Some(worst), Some(place)) = (worst, places.get_mut(&id)) else {
            continue;
        };
        let known = place.moves.iter_mut();
        for scored in known.filter(|m| m.mv == mv && worst.alone < m.worth) {
            scored.worth = worst.alone;
            scored.pv = std::iter::once(mv.clone())
                .chain(worst.pv.iter().cloned())
                .collect();
        }
    }
    Ok(())
}

/// The unwritten moves that would make a finding at the place, the best first; none where nothing was written.
fn proposed(place: &AnalysedPosition, near: ScoreDiff) -> impl Iterator<Item = &AnalysedMove> {
    let written = place.written().next().map(|m| m.worth);
    let better = move |m: &&AnalysedMove| written.is_some_and(|w| m.worth - w >= near);
    place.unwritten().filter(better).take(PROPOSALS)
}
