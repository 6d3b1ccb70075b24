//! What a search proposes to the player instead of his own moves must stand against every check, capture
//! and promotion of the opponent, as his own moves have to: one search's pruning invents oversights.

use shakmaty::Move;

use crate::judge::JudgeError;
use crate::review::analysis::forcing_moves;
use crate::review::analysis::forcing_moves::Wanted;
use crate::review::analysis::judge_client::Asker;
use crate::review::analysis::tree_analysis::{Place, Survey};
use crate::tree::NodeId;

/// Moves proposed at one place that are tested, at most.
const PROPOSALS: usize = 2;

/// Lowers each proposed move to what the opponent's most harmful forcing reply leaves of it.
pub(crate) fn proposals(survey: &mut Survey<'_>, asker: &mut Asker<'_>) -> Result<(), JudgeError> {
    let players = survey.places.iter().filter(|(_, p)| p.is_players_turn());
    let near = survey.settings.delta / 2.0;
    let proposed = players.flat_map(|(id, p)| proposed(*id, p, near));
    let (moves, wanted): (Vec<(NodeId, Move)>, Vec<Wanted>) = proposed.unzip();
    for ((id, mv), replies) in moves
        .into_iter()
        .zip(forcing_moves::replies(&wanted, asker)?)
    {
        let searched = replies.into_iter().filter(|r| !r.rough);
        let worst = searched.min_by(|a, b| a.alone.total_cmp(&b.alone));
        let (Some(worst), Some(place)) = (worst, survey.places.get_mut(&id)) else {
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

/// The unwritten moves that would make a finding at the place, the best first.
fn proposed(id: NodeId, place: &Place, near: f64) -> Vec<((NodeId, Move), Wanted)> {
    let Some(written) = place.written().next().map(|m| m.worth) else {
        return Vec::new();
    };
    let better = place.unwritten().filter(|m| m.worth - written >= near);
    let wanted = better.take(PROPOSALS).filter_map(|m| {
        let wanted = Wanted {
            line: place.line.child(&m.mv).ok()?,
            known: Vec::new(),
            bar: m.worth,
        };
        Some(((id, m.mv.clone()), wanted))
    });
    wanted.collect()
}
