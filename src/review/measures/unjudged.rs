//! What could not be judged, and why.

use crate::notation::Reading;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::measures::threat_notes;
use crate::review::model::notes::Unjudged;
use crate::review::wording;
use crate::tree::{NodeId, Tree};

/// The standing moves without a position to judge them in, and why. What stands below a pass is a threat
/// note, checked elsewhere.
pub(crate) fn unjudged(analysis: &TreeAnalysis<'_>) -> Vec<Unjudged> {
    let tree = analysis.tree;
    let mut found = Vec::new();
    for (id, node) in tree.nodes().filter(|(id, _)| tree.stands(*id)) {
        let parent = tree.parent(id).unwrap_or(NodeId::ROOT);
        let why = match &node.reading {
            Reading::Ambiguous(moves) => wording::ambiguous(&node.text, moves.len()),
            Reading::Unplaced if !is_unplaced(tree, parent) => wording::unplaced(&tree.san(parent)),
            Reading::Pass => match threat_notes::why_not(analysis, id) {
                Some(why) => why,
                None => continue,
            },
            _ => continue,
        };
        found.push(Unjudged {
            path: tree.sans(id),
            why,
            node: id,
        });
    }
    found
}

fn is_unplaced(tree: &Tree, id: NodeId) -> bool {
    tree.node(id)
        .is_some_and(|n| matches!(n.reading, Reading::Unplaced | Reading::Pass))
}
