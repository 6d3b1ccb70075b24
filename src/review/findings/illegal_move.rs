//! What the board does not allow: impossible moves, and mates that are none.

use crate::notation::{self, Reading};
use crate::review::analysis::player_valuation;
use crate::review::analysis::position::AnalysedPosition;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Fault;
use crate::score::PlayerScore;
use crate::tree::NodeId;

/// Anywhere: a written move that is not legal where it stands. What is below it is not judged.
pub(crate) fn detect<'s>(analysis: &'s TreeAnalysis<'_>) -> Vec<Suspect<'s>> {
    let tree = analysis.tree;
    let illegal = tree
        .nodes()
        .filter(|(id, n)| tree.stands(*id) && matches!(n.reading, Reading::Phantom(_)));
    illegal
        .filter_map(|(id, _)| illegal_move(analysis, id))
        .collect()
}

/// `None` below a move that has no position either: that one is told.
fn illegal_move<'s>(analysis: &'s TreeAnalysis<'_>, node: NodeId) -> Option<Suspect<'s>> {
    let at = analysis.tree.parent(node)?;
    let place = analysis.place(at)?;
    // Where he said nothing below it, nothing is held against him but the move itself.
    let believed = player_valuation::stated_below(analysis, node).unwrap_or(place.worth);
    let fault = Fault::IllegalMove { node, meant: None };
    Some(Suspect::new(at, place, fault, (place.worth, believed)))
}

/// A legal move written with `#` that does not mate.
pub(crate) fn false_mates<'s>(analysis: &'s TreeAnalysis<'_>) -> Vec<Suspect<'s>> {
    let places = analysis.places.iter();
    places
        .filter_map(|(id, place)| false_mate(analysis, *id, place))
        .collect()
}

fn false_mate<'s>(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    place: &'s AnalysedPosition,
) -> Option<Suspect<'s>> {
    let node = analysis.tree.node(id)?;
    let before = analysis.place(analysis.tree.parent(id)?)?;
    if !notation::false_mate_claim(&node.token, &before.line) {
        return None;
    }
    let moves = place.expected();
    let escape = moves.first()?.clone();
    let claimed = if before.is_players_turn() {
        PlayerScore::WON
    } else {
        PlayerScore::LOST
    };
    let fault = Fault::FalseMate { escape };
    Some(Suspect::new(id, place, fault, (place.worth, claimed)).proved_by(moves))
}
