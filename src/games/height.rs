//! How well he stood: the one figure that all counts of advantages use.
//!
//! # Definition
//! Before a move of his: his expected score there, as far as it still stood after his move and after the reply, unless his own move gave
//! it away (.05 or more). What the searches after it no longer see was never there. The *peak* of a game is the last of the
//! highest of these scores (within .01).

use super::survey::Surveyed;

/// What a move gives away at least, that it is his move and not a search that saw less.
pub const DROP: f64 = 0.05;
/// Scores that lie so near are as high.
const AS_HIGH: f64 = 0.01;

/// The half-moves at which it was his move, each with how well he stood there.
pub fn heights(surveyed: &Surveyed) -> impl Iterator<Item = (usize, f64)> + '_ {
    let own = (0..surveyed.plies.len()).filter(|p| surveyed.game.is_his(*p));
    own.filter_map(|p| Some((p, stood(surveyed, p)?)))
}

/// Where he stood best, and how well; `None` where he had no move.
#[must_use]
pub fn peak(surveyed: &Surveyed) -> Option<(usize, f64)> {
    let heights: Vec<(usize, f64)> = heights(surveyed).collect();
    let best = heights.iter().map(|h| h.1).fold(0.0, f64::max);
    // Of several that are as high the last: from there it went.
    heights.iter().rfind(|h| best - h.1 <= AS_HIGH).copied()
}

/// The first half-move of his at which he stood so well.
#[must_use]
pub fn first_from(surveyed: &Surveyed, from: f64) -> Option<usize> {
    heights(surveyed).find(|h| h.1 >= from).map(|h| h.0)
}

fn stood(surveyed: &Surveyed, ply: usize) -> Option<f64> {
    let here = surveyed.plies.get(ply)?;
    if here.drop() >= DROP {
        return Some(here.before);
    }
    let next = surveyed.plies.get(ply + 1).map_or(here.after, |p| p.after);
    Some(here.before.min(here.after).min(next))
}
