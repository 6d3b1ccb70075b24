//! What is to be found at the board: how hard a proof is, and what the opponent gives up in it.

use shakmaty::{Move, Position};

use crate::board::{Line, motif};
use crate::judge::{JudgeError, Question};
use crate::review::analysis::judge_client::{JudgeClient, played};
use crate::review::analysis::settling;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::confirmation::argument::Argument;
use crate::review::findings::suspect::{Suspect, gives_something_up};
use crate::review::model::evidence::Shown;
use crate::review::model::fault::{EndError, Fault};
use crate::review::model::thresholds::{BEYOND_PLIES, BEYOND_QUIET, OPINION_MOST, QUIET_THREAT};
use crate::review::wording;
use crate::score::PlayerScore;

/// True where the truth rests on what few would find at the board: more than seven half-moves until it is
/// settled, with two or more quiet only-moves of the side that plays the resource among them. Not where the game is
/// over sooner on the line that it is told by: whoever takes what is offered is mated before his eyes, however long
/// the other defences are.
pub(crate) fn is_beyond(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    argument: &Argument,
    client: &mut JudgeClient<'_>,
) -> Result<bool, JudgeError> {
    if suspect.resource().is_none() || suspect.proof.len() <= BEYOND_PLIES {
        return Ok(false);
    }
    let told = &argument.told;
    let is_soon_over = told.shown == Shown::End && told.moves.len() <= BEYOND_PLIES;
    if is_soon_over || is_looked_at_anyway(analysis, suspect) {
        return Ok(false);
    }
    let mut line = suspect.place.line.clone();
    // The point is seen as soon as the board looks more like the truth than like what was believed.
    let shows =
        |glance: PlayerScore| (glance - suspect.truth).abs() < (glance - suspect.believed).abs();
    let needed = settling::until_settled(&line, &suspect.proof, &shows, client)?;
    if needed <= BEYOND_PLIES {
        return Ok(false);
    }
    let mut quiet = Vec::new();
    for (i, mv) in suspect.proof.iter().take(needed).enumerate() {
        if i % 2 == 0 && !motif::is_forcing(line.position(), mv) && !line.position().is_check() {
            quiet.push((line.clone(), mv));
        }
        line = played(&line, mv)?;
    }
    // All in one batch, so that no engine waits.
    let questions: Vec<Question> = quiet
        .iter()
        .map(|(line, _)| two_best(line, client))
        .collect();
    client.ask(&questions)?;
    let mut hard = 0;
    for (line, mv) in quiet {
        if is_only_move(analysis, &line, mv, client)? {
            hard += 1;
        }
    }
    Ok(hard >= BEYOND_QUIET)
}

/// Never beyond anybody: taking back, and a check or capture on the lines of the move that was chosen.
fn is_looked_at_anyway(analysis: &TreeAnalysis<'_>, suspect: &Suspect<'_>) -> bool {
    let line = &suspect.place.line;
    let Some(mv) = suspect.resource() else {
        return false;
    };
    let forcing = mv.is_capture() || motif::gives_check(line.position(), mv);
    wording::takes_back(line, mv) || forcing && analysis.is_under_choice(suspect.at)
}

/// True where a line is said to stop short, or a threat to be missed, by less than would turn a verdict, and nothing pointed
/// comes: a judgement of a few quiet moves is an opinion, and no oversight. What would do: a forcing move, a threat or a point
/// that can be seen, or a pawn that meets the other side's pawns and so changes the picture.
pub(crate) fn is_opinion(suspect: &Suspect<'_>, argument: &Argument) -> bool {
    let most = match suspect.fault {
        Fault::EndOfLine {
            error: EndError::StoppedShort,
            gives_up: false,
            ..
        } => OPINION_MOST,
        Fault::MissedThreat { .. } => QUIET_THREAT,
        _ => return false,
    };
    let pos = suspect.place.line.position();
    let pointed = |mv: &Move| {
        motif::forcing_class(pos, mv) != motif::Motif::Quiet || wording::is_pawn_break(pos, mv)
    };
    let turns = suspect.gap().value() >= most;
    !turns && !argument.is_seen() && !suspect.resource().is_some_and(pointed)
}

/// True where the move is the best by delta.
fn is_only_move(
    analysis: &TreeAnalysis<'_>,
    line: &Line,
    mv: &Move,
    client: &mut JudgeClient<'_>,
) -> Result<bool, JudgeError> {
    let answer = client.answer(two_best(line, client))?;
    Ok(match answer.moves.as_slice() {
        [first, second, ..] => {
            first.mv == *mv && first.expected.over(second.expected) >= analysis.settings.delta
        }
        [first] => first.mv == *mv,
        [] => false,
    })
}

fn two_best(line: &Line, client: &JudgeClient<'_>) -> Question {
    Question {
        line: line.clone(),
        lines: 2,
        nodes: client.nodes,
    }
}

/// What [`is_counter_sacrifice_later`] will ask, so that it can be asked for several findings at once.
pub(crate) fn foreseen(
    suspect: &Suspect<'_>,
    client: &JudgeClient<'_>,
) -> Result<Option<Question>, JudgeError> {
    let next = next_of_his(suspect)?;
    Ok(next.map(|(line, _)| two_best(&line, client)))
}

/// The position before the opponent's next move in the proof, where that may hide a sacrifice, and that move.
fn next_of_his<'p>(suspect: &'p Suspect<'_>) -> Result<Option<(Line, &'p Move)>, JudgeError> {
    if !may_hide_a_sacrifice(suspect) {
        return Ok(None);
    }
    let next = if suspect.place.is_players_turn() {
        1
    } else {
        2
    };
    let (Some(before), Some(mv)) = (suspect.proof.get(..next), suspect.proof.get(next)) else {
        return Ok(None);
    };
    let mut line = suspect.place.line.clone();
    for mv in before {
        line = played(&line, mv)?;
    }
    Ok(Some((line, mv)))
}

/// The other half of the counter-sacrifice: the opponent's *next* move in the proof gives something up
/// and is the only good one there.
pub(crate) fn is_counter_sacrifice_later(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    client: &mut JudgeClient<'_>,
) -> Result<bool, JudgeError> {
    let Some((line, mv)) = next_of_his(suspect)? else {
        return Ok(false);
    };
    let only = is_only_move(analysis, &line, mv, client)?;
    Ok(only && gives_something_up(&line, mv))
}

fn may_hide_a_sacrifice(suspect: &Suspect<'_>) -> bool {
    let of_that_kind = matches!(
        suspect.fault,
        Fault::MissedReply {
            gives_up: false,
            ..
        } | Fault::EndOfLine {
            gives_up: false,
            error: EndError::StoppedShort,
            ..
        }
    );
    of_that_kind && suspect.truth < suspect.believed
}
