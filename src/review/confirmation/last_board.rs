//! A second confirmation of what a first one leaves in doubt.
//!
//! A search names a line and a score, and the score need not stand where the line ends: what comes after its horizon is
//! seen from there. So the last board of what would be told is searched too. Where less than half of the
//! promise is left there, the place is asked about once more with twice the nodes; what even then differs by little and
//! has no line that keeps its promise is close, and counts for nothing. Where much is at stake the longer search of the
//! whole outweighs the shorter one of its end: after C. Torre's queen has declined E. Adams' (New Orleans 1920), the
//! next offer is not seen at once either.
//!
//! And two moves that differ by little are asked about once more in any case: most of what was false in the bench was
//! such, a written move that a longer search finds as good.

use crate::board::Line;
use crate::judge::{JudgeError, Question};
use crate::review::analysis::judge_client::{JudgeClient, for_player};
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
    for (number, (at, again)) in stands.into_iter().zip(again).enumerate() {
        let keeps = !fails.contains(&number) || again.suspect.gap() >= little;
        if let Some(rechecked) = found.get_mut(at).filter(|_| keeps) {
            *rechecked = again;
        }
    }
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
    let nodes = client.nodes * LAST_BOARD_TIMES;
    let question = |(_, line): &(usize, Line)| Question {
        line: line.clone(),
        lines: 1,
        nodes,
    };
    let questions: Vec<Question> = asked.iter().map(question).collect();
    let answers = client.ask(&questions)?;
    let worths = asked.iter().zip(answers);
    let worths = worths.map(|((at, line), answer)| (*at, for_player(line, &answer)));
    let failing = worths.filter(|(at, worth)| {
        let rechecked = found.get(*at);
        rechecked.is_some_and(|r| !keeps(r, *worth))
    });
    Ok(failing.map(|(at, _)| at).collect())
}

/// The last board of what would be told; `None` where it shows its point by the rules, or nothing follows the
/// resource.
fn last_board(rechecked: &Rechecked<'_>) -> Option<Line> {
    let suspect = &rechecked.suspect;
    let point = argument::point(suspect);
    if point.plies < 2 || !matches!(point.shown, Shown::Material | Shown::Nothing) {
        return None;
    }
    let mut line = suspect.place.line.clone();
    for mv in suspect.proof.iter().take(point.plies) {
        line.push(mv).ok()?;
    }
    line.rule().is_none().then_some(line)
}

/// True where at least half of the promise is left.
fn keeps(rechecked: &Rechecked<'_>, worth: PlayerScore) -> bool {
    let suspect = &rechecked.suspect;
    let promised = (suspect.truth - suspect.believed).value();
    let kept = (worth - suspect.believed).value();
    kept * promised.signum() >= promised.abs() / 2.0
}
