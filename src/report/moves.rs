//! The written tree, move by move: what was said of each move, and the truth wherever it changes.

use crate::board::line;
use crate::review::Review;
use crate::text::clock;
use crate::tree::{Author, NodeId, Tree};

use super::Subject;

/// Deepest indentation of a row.
const INDENT_MAX: usize = 6;

/// The tree in rows, a new one wherever it branches; how far in, and the words.
pub(super) fn rows(of: &Subject, review: &Review) -> Vec<(usize, String)> {
    let mut rows = Vec::new();
    let mut todo: Vec<(usize, NodeId)> = below(&of.tree, NodeId::ROOT, 0);
    while let Some((indent, start)) = todo.pop() {
        let mut row = RowOfMoves::new(of, review, start);
        let mut at = start;
        while let [only] = of.tree.children(at) {
            if author(&of.tree, *only) != author(&of.tree, at) {
                break;
            }
            row.add(*only);
            at = *only;
        }
        todo.extend(below(&of.tree, at, indent + 1));
        rows.push((indent.min(INDENT_MAX), row.words.join(" ")));
    }
    rows
}

fn author(tree: &Tree, id: NodeId) -> Option<Author> {
    tree.node(id).map(|n| n.author)
}

fn below(tree: &Tree, at: NodeId, indent: usize) -> Vec<(usize, NodeId)> {
    let children = tree.children(at).iter().rev();
    children.map(|child| (indent, *child)).collect()
}

struct RowOfMoves<'a> {
    of: &'a Subject,
    review: &'a Review,
    words: Vec<String>,
    /// The truth as it was told last in this row.
    told: Option<&'a str>,
}

impl<'a> RowOfMoves<'a> {
    fn new(of: &'a Subject, review: &'a Review, start: NodeId) -> Self {
        let coach = author(&of.tree, start) == Some(Author::Coach);
        let chosen = of.choice == Some(start);
        let mut words = Vec::new();
        words.extend(coach.then(|| tr!("Coach:").to_owned()));
        words.extend(chosen.then(|| tr!("Chosen:").to_owned()));
        let mut row = Self {
            of,
            review,
            words,
            told: None,
        };
        row.add(start);
        row
    }

    fn add(&mut self, id: NodeId) {
        let tree = &self.of.tree;
        let Some(node) = tree.node(id) else { return };
        let san = self.numbered(id);
        self.words.push(match tree.stands(id) {
            true => san,
            false => format!("[{san}]"),
        });
        self.words.extend(node.verdict.map(|v| v.to_string()));
        self.words
            .extend(node.only.then(|| tr!("(only named)").to_owned()));
        if let Some(other) = node.same_as {
            let line = tree.sans(other).join(" ");
            self.words.push(tr!("(same as {line})"));
        }
        if !node.comment.is_empty() {
            self.words.push(format!("{{{}}}", node.comment));
        }
        let coach = self.of.said_at(id);
        self.words.extend(coach.map(|said| format!("({said})")));
        let read = self.review.moves.iter().find(|m| m.node == id);
        let truth = read.and_then(|m| m.truth.as_deref());
        if truth.is_some() && truth != self.told {
            self.words.extend(truth.map(|words| format!("[{words}]")));
            self.told = truth;
        }
    }

    /// The move with its number, where it needs one.
    fn numbered(&self, id: NodeId) -> String {
        let tree = &self.of.tree;
        let way = tree.sans(id);
        let root = tree.root().position();
        let first = self.words.iter().all(|w| w.ends_with(':'));
        let ply = way.len().saturating_sub(1);
        let all = line::numbered(root, &way);
        let last = all.rsplit(' ').next().unwrap_or_default().to_owned();
        let black = (ply + usize::from(root_is_black(tree))) % 2 == 1;
        match (first, black, way.last()) {
            (true, true, Some(san)) => {
                let number = first_number(tree) + (ply + usize::from(root_is_black(tree))) / 2;
                format!("{number}...{san}")
            }
            _ => last,
        }
    }
}

fn root_is_black(tree: &Tree) -> bool {
    tree.root().player().is_black()
}

fn first_number(tree: &Tree) -> usize {
    use shakmaty::Position;
    usize::try_from(tree.root().position().fullmoves().get()).unwrap_or(1)
}

/// His candidates in the order of writing: time, his verdict at the end of the first line, and the truth.
pub(super) fn candidates(of: &Subject, review: &Review) -> Vec<String> {
    let tree = &of.tree;
    let own = tree.nodes().filter(|(id, node)| {
        tree.parent(*id) == Some(NodeId::ROOT) && node.author == Author::Player
    });
    own.map(|(id, _)| {
        let san = tree.san(id);
        let chosen = if of.choice == Some(id) {
            tr!(", chosen")
        } else {
            ""
        };
        let times = review.process.iter().flat_map(|p| &p.per_candidate);
        let spent = times.filter(|t| t.0 == san).map(|t| clock(t.1)).next();
        let spent = spent.map_or(String::new(), |spent| tr!(", {spent} spent"));
        let said = verdict(tree, id).map_or(String::new(), |v| tr!(", you judged {v}"));
        let read = review.moves.iter().find(|m| m.node == id);
        let truth = match read.and_then(|m| m.truth.as_deref()) {
            Some(words) => tr!("the truth: {words}"),
            None => tr!("not judged").to_owned(),
        };
        format!("{san}{chosen}{spent}{said}; {truth}.")
    })
    .collect()
}

fn verdict(tree: &Tree, node: NodeId) -> Option<String> {
    let next = |id: &NodeId| tree.standing(*id).next();
    let line = std::iter::successors(Some(node), next);
    let said = line.filter_map(|id| tree.node(id).and_then(|n| n.verdict));
    said.last().map(|v| v.to_string())
}
