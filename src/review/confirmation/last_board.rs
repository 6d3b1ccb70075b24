//! A second confirmation of what a first one leaves in doubt.
//!
//! A search names a line and a score, and the score need not stand where the line ends: what comes after its horizon is
//! seen from there. So the last board of what would be told is searched too. Where less than half of the
//! promise is left there, the place is asked about once more with twice the nodes; what even then differs by little and
//! has no line that keeps its promise is close, and counts for nothing. Where much is at stake the longer search of the
//! whole outweighs the shorter one of its end: after C. Torre's queen has declined E. Adams' (New Orleans 1920), the
//! next offer is not seen at once either. What is told then is the part of the line that keeps its promise.
//!
//! A repetition saves only if the other side cannot leave it. The search that found it took it for a draw wherever it came
//! again, so the position that repeats is searched once more as if it had not stood before.
//!
//! And two moves that differ by little are asked about once more in any case: most of what was false in the bench was
//! such, a written move that a longer search finds as good.

use crate::board::Line;
use crate::judge::{JudgeError, Question};
use crate::review::analysis::judge_client::{JudgeClient, for_player, played};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::confirmation::confirmed::{Rechecked, is_beside};
use crate::review::confirmation::recheck::Nodes;
use crate::review::confirmation::{argument, extend_proofs, recheck_all};
use crate::review::findings::suspect::Suspect;
use crate::review::model::evidence::Shown;
use crate::review::model::fault::Ruling;
use crate::review::model::thresholds::{LAST_BOARD_TIMES, LITTLE};
use crate::score::PlayerScore;

/// Looks at the last boards of what counts, and settles what does not stand there.
pub(crate) fn look<'s>(
    analysis: &TreeAnalysis<'_>,
    found: &mut [Rechecked<'s>],
    client: &mut JudgeClient<'_>,
) -> Result<(), JudgeError> {
    let mut doubtful = failing(analysis, found, client)?;
    let little = found.iter().enumerate();
    let little = little.filter(|(_, r)| differs_by_little(analysis, r));
    doubtful.extend(little.map(|(at, _)| at));
    doubtful.sort_unstable();
    doubtful.dedup();
    // All in one batch, so that no engine waits.
    let asked = doubtful.iter().filter_map(|at| found.get(*at));
    let asked = asked.map(|r| (&r.suspect, Nodes::further(analysis, &r.suspect, client)));
    let asked: Vec<(&Suspect<'s>, Nodes)> = asked.collect();
    let again = recheck_all(analysis, &asked, client)?.into_iter();
    let again = doubtful.iter().zip(again);
    let (stands, mut again): (Vec<usize>, Vec<Rechecked<'s>>) =
        again.filter_map(|(at, r)| Some((*at, r?))).unzip();
    extend_proofs(&mut again, client)?;
    let fails = failing(analysis, &again, client)?;
    for at in doubtful {
        if let Some(rechecked) = found.get_mut(at) {
            rechecked.ruling = Ruling::Close;
        }
    }
    let little = analysis.settings.delta.times(LITTLE);
    for (number, (at, mut again)) in stands.into_iter().zip(again).enumerate() {
        if fails.contains(&number) {
            if again.suspect.gap() < little
                || argument::point(&again.suspect).shown == Shown::Repetition
            {
                continue;
            }
            cut(&mut again, client)?;
        }
        if let Some(rechecked) = found.get_mut(at) {
            *rechecked = again;
        }
    }
    Ok(())
}

/// Leaves of the line the longest part whose last board keeps the promise.
fn cut(rechecked: &mut Rechecked<'_>, client: &mut JudgeClient<'_>) -> Result<(), JudgeError> {
    let suspect = &rechecked.suspect;
    let plies = argument::point(suspect).plies;
    let mut lines = Vec::new();
    let mut line = suspect.place.line.clone();
    for mv in suspect.proof.iter().take(plies.saturating_sub(1)) {
        line = played(&line, mv)?;
        lines.push(line.clone());
    }
    let questions: Vec<Question> = lines.iter().map(|line| question(line, client)).collect();
    let answers = client.ask(&questions)?;
    let kept = lines.iter().zip(&answers).enumerate();
    let kept = kept.filter(|(_, (line, answer))| keeps(rechecked, for_player(line, answer)));
    let longest = kept.map(|(before, _)| before + 1).next_back().unwrap_or(1);
    rechecked.suspect.proof.truncate(longest);
    Ok(())
}

/// True where two moves are compared that differ by little more than counts.
fn differs_by_little(analysis: &TreeAnalysis<'_>, rechecked: &Rechecked<'_>) -> bool {
    rechecked.suspect.gap() < analysis.settings.delta.times(LITTLE)
        && rechecked.suspect.fault.compares_moves()
        && counts(analysis, rechecked)
}

fn counts(analysis: &TreeAnalysis<'_>, rechecked: &Rechecked<'_>) -> bool {
    let suspect = &rechecked.suspect;
    rechecked.ruling == Ruling::Counted
        && !suspect.fault.is_by_the_board()
        && !is_beside(analysis, suspect, rechecked.ruling)
}

/// Those that count and do not keep their promise.
fn failing(
    analysis: &TreeAnalysis<'_>,
    found: &[Rechecked<'_>],
    client: &mut JudgeClient<'_>,
) -> Result<Vec<usize>, JudgeError> {
    let mut asked = Vec::new();
    for (at, rechecked) in found.iter().enumerate() {
        if let Some(line) = last_board(rechecked).filter(|_| counts(analysis, rechecked)) {
            asked.push((at, line));
        }
    }
    let questions: Vec<Question> = asked.iter().map(|(_, l)| question(l, client)).collect();
    let answers = client.ask(&questions)?;
    let worths = asked.iter().zip(answers);
    let failing = worths.filter(|((at, line), answer)| {
        let rechecked = found.get(*at);
        rechecked.is_some_and(|r| {
            let player = r.suspect.place.line.player();
            !keeps(r, answer.expected.for_player(line.turn(), player))
        })
    });
    Ok(failing.map(|((at, _), _)| *at).collect())
}

fn question(line: &Line, client: &JudgeClient<'_>) -> Question {
    Question {
        line: line.clone(),
        lines: 1,
        nodes: client.nodes * LAST_BOARD_TIMES,
    }
}

/// The last board of what would be told; `None` where it shows its point by the rules, or nothing follows the
/// resource.
fn last_board(rechecked: &Rechecked<'_>) -> Option<Line> {
    let suspect = &rechecked.suspect;
    let point = argument::point(suspect);
    if point.plies < 2 {
        return None;
    }
    let mut line = suspect.place.line.clone();
    for mv in suspect.proof.iter().take(point.plies) {
        line.push(mv).ok()?;
    }
    match point.shown {
        Shown::Material | Shown::Nothing => line.rule().is_none().then_some(line),
        Shown::Repetition => Some(Line::new(line.position().clone())),
        Shown::End | Shown::EndFollows => None,
    }
}

/// True where at least half of the promise is left.
fn keeps(rechecked: &Rechecked<'_>, worth: PlayerScore) -> bool {
    let suspect = &rechecked.suspect;
    let promised = (suspect.truth - suspect.believed).value();
    let kept = (worth - suspect.believed).value();
    kept * promised.signum() >= promised.abs() / 2.0
}
