//! A coach's tree cut into points, and which of them another tree holds.

use std::collections::HashMap;

use serde::Serialize;
use shakmaty::Move;

use super::super::send::is_circumstance;
use crate::board::line;
use crate::tree::{NodeId, Tree};

/// A stretch of the coach's tree without a fork: from the position, a fork or a move that he marked to the next one,
/// or to the end of the line. A move is marked by words, a verdict or a glyph.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Point {
    /// Moves from the position to where it begins, in SAN.
    pub after: Vec<String>,
    /// Its moves, in SAN; at least one.
    pub moves: Vec<String>,
    /// The same with move numbers: 'after 1.c7 Rd6+' or 'in the position', and '2.Kb5 Rd5+'.
    pub place: String,
    pub line: String,
    /// The coach's verdict on its last move, as a sign; empty where he gave none.
    pub verdict: String,
    /// His words on its last move; may come from a file.
    pub words: String,
    #[serde(skip)]
    nodes: Vec<NodeId>,
}

/// How much of a point another tree holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seen {
    /// All its moves.
    Whole,
    /// So many of its moves, at least one and not all.
    Part(usize),
    /// All moves before it and none of its own.
    Missed,
    /// Not even all moves before it.
    NotReached,
}

/// The points of a tree, in its order. `marked` says of which moves the coach set a glyph.
#[must_use]
pub fn points(tree: &Tree, marked: &dyn Fn(NodeId) -> bool) -> Vec<Point> {
    let mut points = Vec::new();
    let mut starts: Vec<NodeId> = legal(tree, NodeId::ROOT);
    starts.reverse();
    while let Some(first) = starts.pop() {
        let mut nodes = vec![first];
        let mut end = first;
        let below = loop {
            let below = legal(tree, end);
            match below[..] {
                [only] if !is_marked(tree, end) && !marked(end) => {
                    nodes.push(only);
                    end = only;
                }
                _ => break below,
            }
        };
        starts.extend(below.into_iter().rev());
        points.push(point(tree, first, end, nodes));
    }
    points
}

fn legal(tree: &Tree, at: NodeId) -> Vec<NodeId> {
    let below = tree.standing(at);
    below.filter(|id| tree.legal(*id).is_some()).collect()
}

fn is_marked(tree: &Tree, id: NodeId) -> bool {
    tree.node(id)
        .is_some_and(|n| n.verdict.is_some() || !his_words(&n.comment).is_empty())
}

/// What is said in a comment, without what a sitting writes by itself into the file that goes out.
pub(super) fn his_words(comment: &str) -> String {
    let own = comment.lines().map(str::trim);
    let own = own.filter(|l| !is_circumstance(l) && !l.starts_with("Struck out: "));
    own.collect::<Vec<_>>().join(" ").trim().to_owned()
}

fn point(tree: &Tree, first: NodeId, end: NodeId, nodes: Vec<NodeId>) -> Point {
    let before = tree.parent(first).unwrap_or(NodeId::ROOT);
    let (after, all) = (tree.sans(before), tree.sans(end));
    let moves = all.get(after.len()..).unwrap_or_default().to_vec();
    let from = tree.line(before);
    let numbered = from.map(|at| line::numbered(at.position(), &moves));
    let place = match after.as_slice() {
        [] => tr!("in the position").to_owned(),
        way => tr!("after {}", line::numbered(tree.root().position(), way)),
    };
    let node = tree.node(end);
    let verdict = node.and_then(|n| n.verdict).map(|v| v.to_string());
    Point {
        line: numbered.unwrap_or_else(|| moves.join(" ")),
        verdict: verdict.unwrap_or_default(),
        words: node.map_or_else(String::new, |n| his_words(&n.comment)),
        after,
        moves,
        place,
        nodes,
    }
}

/// What a student's tree of the same position holds of each point of the coach's. A place is the way of legal moves
/// to it; struck moves and those that are not legal are passed over.
#[must_use]
pub fn seen(points: &[Point], coach: &Tree, student: &Tree) -> Vec<Seen> {
    // Nodes of the coach's tree with the student's at the same place; a point stands behind the one it continues.
    let mut same = HashMap::from([(NodeId::ROOT, NodeId::ROOT)]);
    let mut all = Vec::with_capacity(points.len());
    for point in points {
        let first = point.nodes.first().copied().unwrap_or(NodeId::ROOT);
        let before = coach.parent(first).unwrap_or(NodeId::ROOT);
        let Some(mut at) = same.get(&before).copied() else {
            all.push(Seen::NotReached);
            continue;
        };
        let mut found = 0;
        for node in &point.nodes {
            let next = coach.legal(*node).and_then(|mv| written(student, at, mv));
            let Some(next) = next else {
                break;
            };
            same.insert(*node, next);
            (at, found) = (next, found + 1);
        }
        all.push(match found {
            n if n == point.nodes.len() => Seen::Whole,
            0 => Seen::Missed,
            n => Seen::Part(n),
        });
    }
    all
}

fn written(tree: &Tree, at: NodeId, mv: &Move) -> Option<NodeId> {
    tree.standing(at).find(|id| tree.legal(*id) == Some(mv))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::coach::testing::saavedra as tree;

    /// F. Saavedra, after G. E. Barbier, Glasgow Weekly Citizen, 1895 (from memory).
    #[test]
    fn a_tree_is_cut_at_forks_and_marks() {
        let mut coach = tree(&["c7 Rd6+ Kb5 Rd5+ Kb4 Rd4+", "c7 Rd6+ Kc5 Rd1", "Kb7 Rd7+"]);
        let marked = coach
            .nodes()
            .find(|(id, _)| coach.san(*id) == "Kb4")
            .unwrap()
            .0;
        coach
            .set_comment(marked, "Written at 0:12.\ntowards the rook")
            .unwrap();
        let all = points(&coach, &|_| false);
        let told: Vec<String> = all
            .iter()
            .map(|p| format!("{}: {} {}", p.place, p.line, p.words))
            .collect();
        insta::assert_snapshot!(told.join("\n"), @"
        in the position: 1.c7 Rd6+ 
        after 1.c7 Rd6+: 2.Kb5 Rd5+ 3.Kb4 towards the rook
        after 1.c7 Rd6+ 2.Kb5 Rd5+ 3.Kb4: 3...Rd4+ 
        after 1.c7 Rd6+: 2.Kc5 Rd1 
        in the position: 1.Kb7 Rd7+ 
        ");
        let student = tree(&["c7 Rd6+ Kb5", "Kb7 Rd7+"]);
        use Seen::{Missed, NotReached, Part, Whole};
        assert_eq!(
            seen(&all, &coach, &student),
            [Whole, Part(1), NotReached, Missed, Whole]
        );
        assert!(seen(&all, &coach, &coach).iter().all(|s| *s == Whole));
        // A glyph cuts as words do.
        let cut = points(&coach, &|id| coach.san(id) == "Rd5+");
        assert_eq!(cut.len(), all.len() + 1);
    }
}
