//! How deep the calculation had to go, went, and held; all in half-moves.

use shakmaty::Move;

use crate::judge::JudgeError;
use crate::review::analysis::judge_client::JudgeClient;
use crate::review::analysis::proof_line::main_line;
use crate::review::analysis::settling::until_settled;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::confirmation::confirmed::Confirmed;
use crate::review::model::measures::Depth;
use crate::review::model::thresholds::ROUNDING;
use crate::score::PlayerScore;
use crate::tree::NodeId;

/// The four figures. They and the findings speak of one thing: no calculation was deep enough that ends before
/// the first counted finding, so `sound` stops before it and `needed` goes at least as far.
pub(crate) fn depth(
    analysis: &TreeAnalysis<'_>,
    findings: &[Confirmed<'_>],
    client: &mut JudgeClient<'_>,
) -> Result<Depth, JudgeError> {
    let main = main_line(analysis);
    let places = analysis.places.keys();
    let longest = places.map(|id| analysis.tree.ply(*id)).max().unwrap_or(0);
    let first = first_finding(analysis, findings, &main);
    let unsound = is_choice_a_loss(analysis).then_some(1).or(first);
    Ok(Depth {
        needed: needed(analysis, first.unwrap_or(0), client)?,
        reached: main.len(),
        longest,
        sound: unsound.map_or(main.len(), |ply| main.len().min(ply.saturating_sub(1))),
    })
}

/// True where the chosen move itself gives away what was held: then nothing that follows it can be sound.
fn is_choice_a_loss(analysis: &TreeAnalysis<'_>) -> bool {
    let (best, choice) = (analysis.root().worth, analysis.choice_worth());
    choice.is_some_and(|choice| {
        best - choice + ROUNDING >= analysis.settings.delta && !analysis.is_decided(best, choice)
    })
}

/// The half-move of the first counted finding on the choice's main line.
fn first_finding(
    analysis: &TreeAnalysis<'_>,
    findings: &[Confirmed<'_>],
    main: &[NodeId],
) -> Option<usize> {
    let counted = findings.iter().filter(|f| f.is_counted());
    let on_main = counted.filter(|f| main.contains(&f.suspect.at));
    on_main.map(|f| f.suspect.ply(analysis)).min()
}

/// Half-moves until the position under the choice is settled for good: not before `first`. A position on the
/// way can look like the truth by chance, and the reason for it still be to come.
fn needed(
    analysis: &TreeAnalysis<'_>,
    first: usize,
    client: &mut JudgeClient<'_>,
) -> Result<usize, JudgeError> {
    let Some(worth) = analysis.choice_worth() else {
        return Ok(0);
    };
    let near = analysis.settings.delta.half();
    let agrees = |glance: PlayerScore| (glance - worth).abs() <= near;
    let (mut from, line) = (analysis.tree.root().clone(), truth_line(analysis));
    let (sure, rest) = line.split_at(line.len().min(first.saturating_sub(1)));
    if sure.iter().any(|mv| from.push(mv).is_err()) {
        return Ok(first);
    }
    let more = until_settled(&from, rest, &agrees, client)?;
    Ok(first.max(sure.len() + more))
}

/// The choice and what should follow: the best move at every surveyed place, then what the search
/// expects.
fn truth_line(analysis: &TreeAnalysis<'_>) -> Vec<Move> {
    let Some(chosen) = analysis.chosen() else {
        return Vec::new();
    };
    let mut moves = vec![chosen.mv.clone()];
    let mut rest: Vec<Move> = chosen.pv.iter().skip(1).cloned().collect();
    let mut at = chosen.node;
    while let Some(place) = at.and_then(|id| analysis.place(id)) {
        let Some(best) = place.best() else {
            rest.clone_from(&place.pv);
            break;
        };
        moves.push(best.mv.clone());
        rest = best.pv.iter().skip(1).cloned().collect();
        at = best.node;
    }
    moves.extend(rest);
    moves
}
