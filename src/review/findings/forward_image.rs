//! Images of the board that do not fit what stands on it.

use shakmaty::{Chess, Move, Position};

use crate::notation;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::tree::NodeId;

/// A move that he wrote elsewhere, not played here, after which the impossible move could be played
/// (forward image; N. Krogius, Psychology in Chess, 1976, from memory).
pub(crate) fn forward(analysis: &TreeAnalysis<'_>, at: NodeId, illegal: NodeId) -> Option<String> {
    let token = &analysis.tree.node(illegal)?.token;
    let here = analysis.place(at)?.line.position();
    let path = analysis.tree.path(at);
    let elsewhere = analysis
        .tree
        .nodes()
        .filter(|(id, _)| analysis.tree.stands(*id) && !path.contains(id));
    let mut moves = elsewhere.filter_map(|(id, _)| Some((id, analysis.tree.legal(id)?)));
    let found = moves.find(|(_, mv)| {
        played_besides(here, mv).is_some_and(|pos| notation::meanings(token, &pos).len() == 1)
    });
    found.map(|(id, _)| analysis.tree.san(id))
}

/// The position with one more move on the board and the same side to move.
fn played_besides(here: &Chess, mv: &Move) -> Option<Chess> {
    let own = here.board().color_at(mv.from()?)? == here.turn();
    let mut pos = if own {
        here.clone()
    } else {
        here.clone().swap_turn().ok()?
    };
    if !pos.is_legal(mv) {
        return None;
    }
    pos.play_unchecked(mv);
    if own { pos.swap_turn().ok() } else { Some(pos) }
}
