//! What held: the first thing a review says, always.

use crate::review::analysis::position::AnalysedPosition;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::model::notes::Credit;
use crate::review::model::thresholds::CREDITS_MAX;
use crate::review::model::verdicts;
use crate::review::wording;
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::NodeId;

/// What the player saw that mattered, the most telling first; never empty where a legal move stands.
pub(crate) fn right(analysis: &TreeAnalysis<'_>) -> Vec<Credit> {
    let mut found: Vec<Credit> = Vec::new();
    found.extend(choice(analysis));
    found.extend(best_candidate(analysis));
    let mut replies = replies(analysis);
    replies.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.extend(replies.into_iter().map(|(_, right)| right));
    found.extend(verdicts(analysis));
    if found.is_empty() {
        found.extend(at_least(analysis));
    }
    found.truncate(CREDITS_MAX);
    found
}

fn told(analysis: &TreeAnalysis<'_>, node: NodeId, note: String) -> Credit {
    Credit {
        path: analysis.tree.sans(node),
        note,
        node,
    }
}

/// The way to a node, with the numbers of the game.
fn way(analysis: &TreeAnalysis<'_>, node: NodeId) -> String {
    wording::path(analysis.tree, &analysis.tree.sans(node))
}

/// The chosen move is as good as any.
fn choice(analysis: &TreeAnalysis<'_>) -> Option<Credit> {
    let chosen = analysis.chosen()?;
    let good = analysis.root().worth - chosen.worth <= analysis.settings.equal;
    let node = chosen.node?;
    // Where everything wins, another may have won sooner: that is told beside it.
    let wins = analysis.is_decided(analysis.root().worth, chosen.worth)
        && chosen.worth > PlayerScore::LEVEL
        && analysis.root().pv.first() != Some(&chosen.mv);
    let words = match wins {
        true => wording::winning_choice(&way(analysis, node)),
        false => wording::right_choice(&way(analysis, node)),
    };
    good.then(|| told(analysis, node, words))
}

/// The best move stood among the candidates, though it was not chosen.
fn best_candidate(analysis: &TreeAnalysis<'_>) -> Option<Credit> {
    let best = analysis.root().best()?;
    let node = best.node.filter(|n| analysis.choice != Some(*n))?;
    // Without a choice that can be compared it matters unless everything loses.
    let chosen = analysis.choice_worth().unwrap_or(PlayerScore::LOST);
    let matters = analysis.root().worth - chosen > analysis.settings.equal;
    matters.then(|| {
        told(
            analysis,
            node,
            wording::right_candidate(&way(analysis, node)),
        )
    })
}

/// The opponent's best replies that were written and that matter: the next best leaves the player
/// better off by half of delta or more. With how much they matter.
fn replies(analysis: &TreeAnalysis<'_>) -> Vec<(ScoreDiff, Credit)> {
    let opponents = analysis.places.iter().filter(|(_, p)| !p.is_players_turn());
    opponents
        .filter_map(|(_, place)| reply(analysis, place))
        .collect()
}

fn reply(analysis: &TreeAnalysis<'_>, place: &AnalysedPosition) -> Option<(ScoreDiff, Credit)> {
    let best = place.moves.first()?;
    let (node, margin) = (best.node?, place.margin?);
    let next = best.worth + margin;
    let matters =
        margin >= analysis.settings.delta.half() && !analysis.is_decided(next, best.worth);
    matters.then(|| {
        let reply = wording::written(analysis.tree, node);
        let before = analysis.tree.parent(node).unwrap_or(NodeId::ROOT);
        let note = wording::right_reply(&reply, &way(analysis, before));
        (margin, told(analysis, node, note))
    })
}

/// Ends of lines that were judged rightly.
fn verdicts(analysis: &TreeAnalysis<'_>) -> Vec<Credit> {
    let ends = analysis.tree.leaves().into_iter();
    let held = ends.filter(|id| {
        if !analysis.is_end(*id) {
            return false;
        }
        let judged = analysis.place(*id).zip(analysis.verdict(*id));
        judged.is_some_and(|(place, v)| {
            verdicts::value_of(v, analysis.player()).is_some()
                && verdicts::agrees(v, analysis.player(), place.worth, ScoreDiff::ZERO)
        })
    });
    held.map(|id| told(analysis, id, wording::right_verdict(&way(analysis, id))))
        .collect()
}

/// When nothing else held: the longest line that can be played.
fn at_least(analysis: &TreeAnalysis<'_>) -> Option<Credit> {
    let ids = analysis
        .places
        .keys()
        .copied()
        .filter(|id| *id != NodeId::ROOT);
    let node = ids.max_by_key(|id| (analysis.tree.ply(*id), std::cmp::Reverse(*id)))?;
    Some(told(
        analysis,
        node,
        wording::right_legal(analysis.tree.ply(node)),
    ))
}
