//! What a search proposes to the player instead of his own moves must stand against every check, capture
//! and promotion of the opponent, as his own moves have to: one search's pruning invents oversights.

use shakmaty::{Move, Position};

use super::asker::Asker;
use super::survey::{Place, SCREEN, Survey};
use crate::board::{Line, motif};
use crate::judge::JudgeError;
use crate::tree::NodeId;

/// Moves proposed at one place that are tested, at most.
const PROPOSALS: usize = 2;

/// Lowers each proposed move to what the opponent's most harmful forcing reply leaves of it.
pub(super) fn proposals(survey: &mut Survey<'_>, asker: &mut Asker<'_>) -> Result<(), JudgeError> {
    let players = survey.places.iter().filter(|(_, p)| p.is_players_turn());
    let near = survey.settings.delta / 2.0;
    let proposed: Vec<(NodeId, Move)> =
        players.flat_map(|(id, p)| proposed(*id, p, near)).collect();
    for (id, mv) in proposed {
        let Some(place) = survey.places.get_mut(&id) else {
            continue;
        };
        let Ok(line) = place.line.child(&mv) else {
            continue;
        };
        let worst = worst_forcing(&line, asker)?;
        for scored in place.moves.iter_mut().filter(|m| m.mv == mv) {
            if let Some((worth, pv)) = worst.as_ref().filter(|w| w.0 < scored.worth) {
                scored.worth = *worth;
                scored.pv = std::iter::once(mv.clone())
                    .chain(pv.iter().cloned())
                    .collect();
            }
        }
    }
    Ok(())
}

/// The unwritten moves that would make a finding at the place, the best first.
fn proposed(id: NodeId, place: &Place, near: f64) -> Vec<(NodeId, Move)> {
    let Some(written) = place.written().next().map(|m| m.worth) else {
        return Vec::new();
    };
    let better = place.unwritten().filter(|m| m.worth - written >= near);
    better.take(PROPOSALS).map(|m| (id, m.mv.clone())).collect()
}

/// The opponent's most harmful check, capture or promotion: what it leaves the player, and the line. Every
/// check gets a full search, of the others the one that a small search likes best.
fn worst_forcing(
    line: &Line,
    asker: &mut Asker<'_>,
) -> Result<Option<(f64, Vec<Move>)>, JudgeError> {
    let pos = line.position();
    let moves = pos.legal_moves();
    let forcing = moves.iter().filter(|mv| motif::is_forcing(pos, mv));
    let lines: Vec<Line> = forcing.filter_map(|mv| line.child(mv).ok()).collect();
    let screened = asker.after_moves(&lines, (asker.nodes / SCREEN).max(1))?;
    let mut order: Vec<(f64, Line)> = screened.into_iter().map(|s| s.0).zip(lines).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let lines = order.into_iter().map(|o| o.1).enumerate();
    let tried: Vec<Line> = lines
        .filter(|(i, l)| *i == 0 || l.position().is_check())
        .map(|l| l.1)
        .collect();
    let searched = asker.after_moves(&tried, asker.nodes)?;
    Ok(searched.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)))
}
