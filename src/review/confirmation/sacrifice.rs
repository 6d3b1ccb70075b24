//! What only the judge can tell of a resource: whether what it leaves hanging is given or was lost anyway,
//! and whether every move harms the side that has to answer it.

use shakmaty::{Chess, Move, Position};

use crate::board::{Line, motif, sacrifice};
use crate::judge::{JudgeError, Question};
use crate::review::analysis::judge_client::{JudgeClient, played};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::confirmation::confirmed::{Rechecked, answering};
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Ruling;
use crate::review::model::finding::{Sacrifice, Turn};
use crate::review::model::thresholds::{GOOD_MOVES, LOST, PASS_PART};

/// What the resource gives up, where it gives something up. A piece that hung before it is given up only if a
/// good move saved it. Where none did, the finding is no sacrifice. With it the capture that takes what is given,
/// where that is more than a pawn.
pub(crate) fn settle(
    analysis: &TreeAnalysis<'_>,
    suspect: &mut Suspect<'_>,
    client: &mut JudgeClient<'_>,
) -> Result<(Option<Sacrifice>, Option<Move>), JudgeError> {
    let line = &suspect.place.line;
    let pos = line.position();
    let Some(mv) = suspect.resource().cloned() else {
        return Ok((None, None));
    };
    let rests_on_good_moves = rests_on_good_moves(pos, &mv);
    let offer = if rests_on_good_moves {
        let good = good_moves(analysis, line, client)?;
        sacrifice::offer_given(pos, &mv, |m| good.contains(m))
    } else {
        sacrifice::offer(pos, &mv)
    };
    if rests_on_good_moves && !offer.as_ref().is_some_and(|o| o.is_sacrifice()) {
        suspect.fault.set_gives_up(false);
    }
    let accept = offer.as_ref().filter(|o| o.is_sacrifice());
    let accept = accept.map(|o| o.accept.clone());
    let told = offer.map(|offer| Sacrifice {
        gives: offer.gives,
        active: offer.active,
        sham: sacrifice::is_sham(pos, &suspect.proof),
    });
    Ok((told, accept))
}

/// True where what the move leaves hanging may have been lost anyway.
fn rests_on_good_moves(pos: &Chess, mv: &Move) -> bool {
    sacrifice::offer(pos, mv).is_some() && sacrifice::offer_given(pos, mv, |_| false).is_none()
}

/// What [`settle`] and [`zugzwang`] will ask of it first of all, so that it can be asked for several findings at once.
pub(crate) fn foreseen(
    rechecked: &Rechecked<'_>,
    counts: bool,
    client: &JudgeClient<'_>,
) -> Result<Vec<Question>, JudgeError> {
    let line = &rechecked.suspect.place.line;
    let mut questions = Vec::new();
    let resource = rechecked.suspect.resource();
    if resource.is_some_and(|mv| rests_on_good_moves(line.position(), mv)) {
        questions.push(best_of(line, client));
    }
    if let Some((after, passed)) = pass(rechecked)?.filter(|_| counts) {
        questions.extend(moved_and_passed(&after, &passed, part(client), client));
    }
    Ok(questions)
}

fn best_of(line: &Line, client: &JudgeClient<'_>) -> Question {
    Question {
        line: line.clone(),
        lines: GOOD_MOVES,
        nodes: client.nodes,
    }
}

fn part(client: &JudgeClient<'_>) -> u64 {
    (client.nodes / PASS_PART).max(1)
}

fn moved_and_passed(
    after: &Line,
    passed: &Line,
    nodes: u64,
    client: &JudgeClient<'_>,
) -> [Question; 2] {
    [(after, client.nodes), (passed, nodes)].map(|(line, nodes)| Question {
        line: line.clone(),
        lines: 1,
        nodes,
    })
}

/// The position after a quiet resource that counts, and the same with the other side to have passed.
fn pass(rechecked: &Rechecked<'_>) -> Result<Option<(Line, Line)>, JudgeError> {
    let line = &rechecked.suspect.place.line;
    let resource = rechecked.suspect.resource();
    let quiet = resource.filter(|mv| !motif::is_forcing(line.position(), mv));
    let Some(mv) = quiet.filter(|_| rechecked.ruling == Ruling::Counted) else {
        return Ok(None);
    };
    let after = played(line, mv)?;
    let passed = after.position().clone().swap_turn().ok();
    Ok(passed.map(|passed| (after, Line::new(passed))))
}

/// The moves that would have kept the game: within delta of the best, or at least not lost. Delta alone will
/// not do: where a sacrifice is the one good move, nothing is within delta of it, and A. Lilienthal's queen
/// (against J. R. Capablanca, Hastings 1934/35) would be no sacrifice.
fn good_moves(
    analysis: &TreeAnalysis<'_>,
    line: &Line,
    client: &mut JudgeClient<'_>,
) -> Result<Vec<Move>, JudgeError> {
    let answer = client.answer(best_of(line, client))?;
    let (best, delta) = (answer.expected, analysis.settings.delta);
    let moves = answer.moves.into_iter();
    let good = moves.filter(|m| best.over(m.expected) < delta || m.expected.value() > LOST);
    Ok(good.map(|m| m.mv).collect())
}

/// The side that would rather pass after a quiet resource ('every move harms', zugzwang); `None` where it would
/// not, or nobody can pass.
pub(crate) fn zugzwang(
    analysis: &TreeAnalysis<'_>,
    rechecked: &Rechecked<'_>,
    client: &mut JudgeClient<'_>,
) -> Result<Option<Turn>, JudgeError> {
    let Some((after, passed)) = pass(rechecked)? else {
        return Ok(None);
    };
    // Passing is seldom better, and then a small search says so.
    for nodes in [part(client), client.nodes] {
        let both = client.ask(&moved_and_passed(&after, &passed, nodes, client))?;
        let [moved, passed] = both.as_slice() else {
            return Err(JudgeError::Unanswered);
        };
        let harms = motif::every_move_harms(
            moved.expected.value(),
            passed.expected.flip().value(),
            analysis.settings.delta.value(),
        );
        if !harms {
            return Ok(None);
        }
    }
    Ok(Some(answering(&rechecked.suspect)))
}
