//! What each written move came to, beside what the player said of it.

use shakmaty::Position;

use crate::board::Line;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::model::notes::MoveRead;
use crate::review::model::verdicts::{standing, value_of};
use crate::score::PlayerScore;
use crate::tree::{NodeId, Verdict};

/// The moves that stand, in the order of writing.
pub(crate) fn moves(analysis: &TreeAnalysis<'_>) -> Vec<MoveRead> {
    let tree = analysis.tree;
    let standing = tree.nodes().filter(|(id, _)| tree.stands(*id));
    standing
        .map(|(id, node)| {
            let worth = worth(analysis, id);
            let line = analysis.place(id).map(|p| &p.line);
            MoveRead {
                path: tree.sans(id),
                said: node.verdict.map(|v| said(analysis, v)),
                truth: line.zip(worth).map(|(line, worth)| truth(line, worth)),
                worth,
                node: id,
            }
        })
        .collect()
}

/// As the other moves of its place are scored, so that alternatives can be compared.
fn worth(analysis: &TreeAnalysis<'_>, id: NodeId) -> Option<PlayerScore> {
    let place = analysis.place(id)?;
    Some(analysis.scored(id).map_or(place.worth, |m| m.worth))
}

/// A verdict from the player's side.
fn said(analysis: &TreeAnalysis<'_>, verdict: Verdict) -> String {
    match verdict {
        Verdict::Unclear => tr!("you left it open").to_owned(),
        Verdict::Percent(p) => tr!("you expect {p}%"),
        sign => value_of(sign, analysis.player())
            .map_or_else(String::new, |score| standing(score).to_owned()),
    }
}

/// The rules come before any number.
fn truth(line: &Line, worth: PlayerScore) -> String {
    let position = line.position();
    let words = if position.is_checkmate() && position.turn() == line.player() {
        tr!("he has mated you")
    } else if position.is_checkmate() {
        tr!("you have mated him")
    } else if position.is_stalemate() {
        tr!("stalemate: a draw")
    } else {
        standing(worth)
    };
    words.to_owned()
}
