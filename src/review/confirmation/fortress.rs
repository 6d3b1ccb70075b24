//! Whether the better side makes progress at all: an engine can be fond of a fortress for ever.

use shakmaty::Position;

use crate::board::Line;
use crate::judge::JudgeError;
use crate::review::analysis::judge_client::{JudgeClient, played};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::thresholds::{FORTRESS_PART, FORTRESS_PLIES, FORTRESS_SCORES};
use crate::score::ScoreDiff;

/// True where the finding rests on an advantage that best play from the end of its proof does not
/// turn into anything: in [`FORTRESS_PLIES`] half-moves nothing is taken and no pawn moves, or a position comes
/// again, and the advantage is still claimed.
pub(crate) fn holds(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    client: &mut JudgeClient<'_>,
) -> Result<bool, JudgeError> {
    let better = suspect.truth.max(suspect.truth.of_opponent()).value();
    let is_claimed = FORTRESS_SCORES.contains(&better) && analysis.settings.delta > ScoreDiff::ZERO;
    if suspect.resource().is_none() || !is_claimed {
        return Ok(false);
    }
    let mut line = suspect.place.line.clone();
    for mv in &suspect.proof {
        line = played(&line, mv)?;
    }
    let start = line.ply();
    while line.ply() < start + FORTRESS_PLIES {
        let clock = line.position().halfmoves();
        let Some(next) = best(&line, client)? else {
            return Ok(false);
        };
        line = next;
        if line.position().halfmoves() <= clock {
            return Ok(false);
        }
        if line.occurrences_since_root() > 1 {
            return Ok(true);
        }
    }
    Ok(true)
}

/// The line with the best move played; `None` where the game is over.
fn best(line: &Line, client: &mut JudgeClient<'_>) -> Result<Option<Line>, JudgeError> {
    if line.rule().is_some() {
        return Ok(None);
    }
    let answer = client.ask_one(line, 1, (client.nodes / FORTRESS_PART).max(1))?;
    let best = answer.moves.into_iter().next();
    best.map(|m| played(line, &m.mv)).transpose()
}
