//! Where the arrows lead in a written tree, the rows they lead through, and the way to a move.

use std::collections::HashSet;

use crate::tree::{NodeId, Tree};

/// The moves to a node as typed.
#[must_use]
pub fn as_typed(tree: &Tree, node: NodeId) -> Vec<&str> {
    let path = tree.path(node);
    let nodes = path.iter().filter_map(|n| tree.node(*n));
    nodes.map(|n| n.text.as_str()).collect()
}

/// Rows of moves: how far in, and which.
pub(super) fn rows(
    tree: &Tree,
    candidates_only: bool,
    folded: &HashSet<NodeId>,
) -> Vec<(usize, Vec<NodeId>)> {
    let mut rows = Vec::new();
    let mut todo: Vec<(usize, NodeId)> = first(tree, NodeId::ROOT, 0);
    while let Some((indent, start)) = todo.pop() {
        let mut row = vec![start];
        let mut at = start;
        if !candidates_only {
            while let ([only], false) = (tree.children(at), folded.contains(&at)) {
                row.push(*only);
                at = *only;
            }
            if !folded.contains(&at) {
                todo.extend(first(tree, at, indent + 1));
            }
        }
        rows.push((indent, row));
    }
    rows
}

/// The children of a move, in reverse: the first is to be taken first from the end.
fn first(tree: &Tree, at: NodeId, indent: usize) -> Vec<(usize, NodeId)> {
    let children = tree.children(at).iter().rev();
    children.map(|child| (indent, *child)).collect()
}

/// The first move of the row above or below the one the cursor stands in; from the root the
/// first or last row.
#[must_use]
pub fn row(tree: &Tree, cursor: NodeId, down: bool, folded: &HashSet<NodeId>) -> NodeId {
    let rows = rows(tree, false, folded);
    let at = rows.iter().position(|(_, row)| row.contains(&cursor));
    let next = match (at, down) {
        (None, true) => Some(0),
        (None, false) => rows.len().checked_sub(1),
        (Some(at), true) => Some(at + 1),
        (Some(at), false) => at.checked_sub(1),
    };
    let found = next.and_then(|i| rows.get(i)?.1.first());
    found.copied().unwrap_or(cursor)
}

/// The first move of the row above, and above the first row the position itself.
#[must_use]
pub fn row_or_root(tree: &Tree, cursor: NodeId, folded: &HashSet<NodeId>) -> NodeId {
    let all = rows(tree, false, folded);
    match all.iter().position(|(_, row)| row.contains(&cursor)) {
        None | Some(0) => NodeId::ROOT,
        Some(_) => row(tree, cursor, false, folded),
    }
}

/// The candidate after or before the one the cursor is in, round the end.
#[must_use]
pub fn candidate(tree: &Tree, cursor: NodeId, forward: bool) -> NodeId {
    let all = tree.children(NodeId::ROOT);
    let own = tree.path(cursor).first().copied();
    let at = own.and_then(|own| all.iter().position(|c| *c == own));
    let next = match (at, forward) {
        (None, true) => 0,
        (None, false) => all.len().saturating_sub(1),
        (Some(at), true) => (at + 1) % all.len(),
        (Some(at), false) => (at + all.len() - 1) % all.len(),
    };
    all.get(next).copied().unwrap_or(NodeId::ROOT)
}

/// The nearest earlier place where the tree branches, else the root: where the last alternative
/// on the way to the cursor began.
#[must_use]
pub fn branch(tree: &Tree, cursor: NodeId) -> NodeId {
    let mut at = cursor;
    while let Some(parent) = tree.parent(at) {
        at = parent;
        if tree.children(at).len() > 1 {
            break;
        }
    }
    at
}
