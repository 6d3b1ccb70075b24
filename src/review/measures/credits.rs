//! What held: the first thing a review says, always.

use crate::review::analysis::player_valuation;
use crate::review::analysis::tree_analysis::{Place, Survey};
use crate::review::model::review::Right;
use crate::review::wording;
use crate::tree::NodeId;

/// Right things told at most; the choice and candidates first, then replies by what they matter.
const TOLD_MAX: usize = 4;

/// What the player saw that mattered, the most telling first; never empty where a legal move stands.
pub(crate) fn right(survey: &Survey<'_>) -> Vec<Right> {
    let mut found: Vec<Right> = Vec::new();
    found.extend(choice(survey));
    found.extend(best_candidate(survey));
    let mut replies = replies(survey);
    replies.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.extend(replies.into_iter().map(|(_, right)| right));
    found.extend(verdicts(survey));
    if found.is_empty() {
        found.extend(at_least(survey));
    }
    found.truncate(TOLD_MAX);
    found
}

fn told(survey: &Survey<'_>, node: NodeId, note: String) -> Right {
    Right {
        path: survey.tree.sans(node),
        note,
        node,
    }
}

/// The chosen move is as good as any.
fn choice(survey: &Survey<'_>) -> Option<Right> {
    let chosen = survey.chosen()?;
    let good = survey.root().worth - chosen.worth <= survey.settings.equal;
    let node = chosen.node?;
    good.then(|| told(survey, node, wording::right_choice(&survey.tree.san(node))))
}

/// The best move stood among the candidates, though it was not chosen.
fn best_candidate(survey: &Survey<'_>) -> Option<Right> {
    let best = survey.root().best()?;
    let node = best.node.filter(|n| survey.choice != Some(*n))?;
    let matters =
        survey.root().worth - survey.choice_worth().unwrap_or(0.0) > survey.settings.equal;
    matters.then(|| {
        told(
            survey,
            node,
            wording::right_candidate(&survey.tree.san(node)),
        )
    })
}

/// The opponent's best replies that were written and that matter: the next best leaves the player
/// better off by half of delta or more. With how much they matter.
fn replies(survey: &Survey<'_>) -> Vec<(f64, Right)> {
    let opponents = survey.places.iter().filter(|(_, p)| !p.is_players_turn());
    opponents
        .filter_map(|(_, place)| reply(survey, place))
        .collect()
}

fn reply(survey: &Survey<'_>, place: &Place) -> Option<(f64, Right)> {
    let best = place.moves.first()?;
    let (node, margin) = (best.node?, place.margin?);
    let next = best.worth + margin;
    let matters = margin >= survey.settings.delta / 2.0 && !survey.is_decided(next, best.worth);
    matters.then(|| {
        let note = wording::right_reply(&survey.tree.san(node), survey.tree.ply(node));
        (margin, told(survey, node, note))
    })
}

/// Ends of lines that were judged rightly.
fn verdicts(survey: &Survey<'_>) -> Vec<Right> {
    let ends = survey
        .tree
        .leaves()
        .into_iter()
        .filter(|id| survey.place(*id).is_some());
    let held = ends.filter(|id| {
        let verdict = survey.verdict(*id);
        let truth = survey.place(*id).map_or(0.5, |p| p.worth);
        verdict.is_some_and(|v| {
            player_valuation::value_of(v, survey.player()).is_some()
                && player_valuation::agrees(v, survey.player(), truth, 0.0)
        })
    });
    held.map(|id| told(survey, id, wording::right_verdict(&survey.tree.sans(id))))
        .collect()
}

/// When nothing else held: the longest line that can be played.
fn at_least(survey: &Survey<'_>) -> Option<Right> {
    let ids = survey
        .places
        .keys()
        .copied()
        .filter(|id| *id != NodeId::ROOT);
    let node = ids.max_by_key(|id| (survey.tree.ply(*id), std::cmp::Reverse(*id)))?;
    Some(told(
        survey,
        node,
        wording::right_legal(survey.tree.ply(node)),
    ))
}
