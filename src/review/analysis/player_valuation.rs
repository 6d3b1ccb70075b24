//! What the player's own verdicts make of his tree.
//!
//! His tree is backed up as he would do it himself: a line is worth what he said of its end, he
//! chooses at his turns, the opponent at his. Where he said nothing of an end, the truth stands in,
//! so that silence is never held against him.

use std::collections::BTreeMap;

use shakmaty::Color;

use crate::board::{exchange, sacrifice};
use crate::judge::Expectation;
use crate::review::analysis::tree_analysis::Survey;
use crate::tree::{NodeId, Verdict};

/// Bounds of the verdict signs in the player's expected score, from level upwards: level to .55,
/// slight to .65, clear to .78, decisive above; mirrored below (common practice, no source).
const BOUNDS: [(f64, f64); 4] = [(0.45, 0.55), (0.55, 0.65), (0.65, 0.78), (0.78, 1.0)];
/// A percentage stands for itself and this much to either side.
const PERCENT_WIDTH: f64 = 0.05;

/// The range of expected scores of `player` that a verdict means; `None` for 'unclear', which is
/// never scored.
pub(crate) fn band(verdict: Verdict, player: Color) -> Option<(f64, f64)> {
    match verdict {
        Verdict::Unclear => None,
        Verdict::Percent(p) => {
            let e = f64::from(p) / 100.0;
            Some((e - PERCENT_WIDTH, e + PERCENT_WIDTH))
        }
        Verdict::Sign(sign) => {
            let steps = sign.steps_for(player);
            let [.., last] = BOUNDS;
            let (low, high) = *BOUNDS
                .get(usize::from(steps.unsigned_abs()))
                .unwrap_or(&last);
            Some(if steps >= 0 {
                (low, high)
            } else {
                (1.0 - high, 1.0 - low)
            })
        }
    }
}

/// Words that close a line as a draw, where no verdict stands.
const CLOSING: [&str; 5] = ["rep", "repetition", "perpetual", "perp", "threefold"];

/// True where a comment closes its line as level.
pub(crate) fn is_closed(comment: &str) -> bool {
    let words = comment.split(|c: char| !c.is_alphanumeric());
    words
        .into_iter()
        .any(|w| CLOSING.contains(&w.to_lowercase().as_str()))
}

/// The expected score of `player` that a verdict means: the middle of its range; `None` for
/// 'unclear'.
#[must_use]
pub fn value_of(verdict: Verdict, player: Color) -> Option<f64> {
    band(verdict, player).map(|(low, high)| f64::midpoint(low, high))
}

/// True where `e` lies in the verdict's range, widened by `slack` on both sides.
pub(crate) fn agrees(verdict: Verdict, player: Color, e: f64, slack: f64) -> bool {
    // Half a thousandth for rounding: a bound must not depend on the last bit.
    band(verdict, player)
        .is_none_or(|(low, high)| e >= low - slack - 0.0005 && e <= high + slack + 0.0005)
}

/// What every place is worth by his own tree and verdicts; [`effect`](crate::review::analysis::choice_impact) puts moves into it.
pub(crate) fn values(survey: &Survey<'_>) -> BTreeMap<NodeId, f64> {
    let mut values = BTreeMap::new();
    for id in from_the_ends(survey, survey.places.keys().copied()) {
        let value = backed_up(survey, id, children(survey, id, &values));
        values.insert(id, value);
    }
    values
}

/// The nodes, those further down first.
pub(crate) fn from_the_ends(
    survey: &Survey<'_>,
    nodes: impl Iterator<Item = NodeId>,
) -> Vec<NodeId> {
    let mut nodes: Vec<NodeId> = nodes.collect();
    nodes.sort_by_key(|id| std::cmp::Reverse(survey.tree.ply(*id)));
    nodes
}

/// The values of the standing moves below a node, as far as they are known.
pub(crate) fn children<'v>(
    survey: &'v Survey<'_>,
    id: NodeId,
    values: &'v BTreeMap<NodeId, f64>,
) -> impl Iterator<Item = f64> + 'v {
    let standing = survey.tree.standing(id);
    standing.filter_map(|c| values.get(&c).copied())
}

/// A place is worth the best of what follows for the side to move; an end what he said of it.
pub(crate) fn backed_up(
    survey: &Survey<'_>,
    id: NodeId,
    following: impl Iterator<Item = f64>,
) -> f64 {
    let Some(place) = survey.place(id) else {
        return 0.5;
    };
    let best = following.reduce(|a, b| if place.prefers(b, a) > 0.0 { b } else { a });
    best.unwrap_or_else(|| stated(survey, id).unwrap_or_else(|| unsaid(survey, id, place.worth)))
}

/// What he is taken to think of an end he did not judge: the better of the truth and the pieces.
fn unsaid(survey: &Survey<'_>, id: NodeId, truth: f64) -> f64 {
    as_stated(material_view(survey, id).map_or(truth, |m| m.max(truth)))
}

/// A searched score on the scale of verdicts: 'winning' is the most that can be said in signs, so a
/// forced mate is worth no more in his tree than his own 'winning'.
pub(crate) fn as_stated(e: f64) -> f64 {
    let most = f64::midpoint(BOUNDS[3].0, BOUNDS[3].1);
    e.clamp(1.0 - most, most)
}

/// True where both scores are winning, or both lost, and no verdict tells them apart by `delta`: a mate where
/// the written move wins too is worth a note and no finding.
pub(crate) fn say_the_same(a: f64, b: f64, delta: f64) -> bool {
    let won = BOUNDS[3].0;
    let one_sided = a.min(b) >= won || a.max(b) <= 1.0 - won;
    one_sided && (as_stated(a) - as_stated(b)).abs() < delta
}

/// His verdict on the position after `id`, as an expected score.
pub(crate) fn stated(survey: &Survey<'_>, id: NodeId) -> Option<f64> {
    value_of(survey.verdict(id)?, survey.player())
}

/// What a count of the pieces says, once captures have run out: the expected score of the player from
/// material alone, a pawn being 100 centipawns.
pub(crate) fn material_view(survey: &Survey<'_>, id: NodeId) -> Option<f64> {
    let place = survey.place(id)?;
    let pos = place.line.position();
    let player = survey.player();
    let to_come = exchange::best_capture(pos).map_or(0, |(won, _)| won);
    let sign = if place.is_players_turn() { 1 } else { -1 };
    let pawns = sacrifice::balance(pos, player) + sign * to_come;
    Some(Expectation::from_centipawns(pawns * 100).value())
}
