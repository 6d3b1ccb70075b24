//! Whether the better side makes progress at all: an engine can be fond of a fortress for ever.

use shakmaty::Position;

use crate::board::Line;
use crate::judge::JudgeError;
use crate::review::analysis::judge_client::Asker;
use crate::review::analysis::tree_analysis::{Place, Survey};
use crate::review::findings::suspect::Draft;

/// So many half-moves of best play without a capture or a pawn move are no progress.
const PLIES: usize = 40;
/// The part of the nodes for each of them.
const PART: u64 = 40;
/// Expected scores of the better side in question: below, nobody claims anything; above, it is won.
const FROM: f64 = 0.60;
const TO: f64 = 0.95;

/// True where the finding rests on an advantage that best play from the end of its proof does not
/// turn into anything: in [`PLIES`] half-moves nothing is taken and no pawn moves, or a position comes
/// again, and the advantage is still claimed.
pub(crate) fn is_missing(
    survey: &Survey<'_>,
    draft: &Draft,
    place: &Place,
    asker: &mut Asker<'_>,
) -> Result<bool, JudgeError> {
    let better = draft.truth.max(1.0 - draft.truth);
    if draft.resource.is_none() || !(FROM..=TO).contains(&better) || survey.settings.delta <= 0.0 {
        return Ok(false);
    }
    let mut line = place.line.clone();
    for mv in &draft.proof {
        if line.push(mv).is_err() {
            return Ok(false);
        }
    }
    let start = line.ply();
    while line.ply() < start + PLIES {
        let clock = line.position().halfmoves();
        let Some(next) = best(&line, asker)? else {
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
fn best(line: &Line, asker: &mut Asker<'_>) -> Result<Option<Line>, JudgeError> {
    if line.rule().is_some() {
        return Ok(None);
    }
    let answer = asker.ask_one(line, 1, (asker.nodes / PART).max(1))?;
    let mv = answer
        .and_then(|a| a.moves.into_iter().next())
        .map(|m| m.mv);
    Ok(mv.and_then(|mv| line.child(&mv).ok()))
}
