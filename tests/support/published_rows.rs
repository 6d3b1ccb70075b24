//! The rows of `tests/data/published.tsv`: a tree with a known mistake each. For the test and the bench.

use foreply::board::Line;
use foreply::drill;
use foreply::review::Finding;
use foreply::tree::{Author, NodeId, Tree, Verdict};

/// One row: the drill, the written lines, and the finding that must tell what they overlook.
pub struct Row {
    /// Line in the file, from 1.
    pub number: usize,
    pub id: &'static str,
    pub lines: &'static str,
    pub resource: &'static str,
    pub ply: &'static str,
    kinds: &'static str,
    tags: &'static str,
}

/// All rows.
pub fn rows() -> Vec<Row> {
    let text = include_str!("../data/published.tsv");
    let numbered = (1..).zip(text.lines());
    numbered
        .filter(|(_, l)| !l.starts_with('#'))
        .map(|(number, row)| {
            let fields: Vec<&'static str> = row.split('\t').collect();
            let [id, lines, resource, ply, kinds, tags] = fields[..] else {
                panic!("published.tsv, line {number}: no six fields");
            };
            Row {
                number,
                id,
                lines,
                resource,
                ply,
                kinds,
                tags,
            }
        })
        .collect()
}

impl Row {
    /// The position: that of the drill, or the row's own.
    pub fn root(&self) -> Line {
        if self.id.contains('/') {
            return Line::new(foreply::board::line::read_fen(self.id).unwrap());
        }
        let drills = drill::builtin().unwrap();
        let found = drills.iter().find(|d| d.id == self.id);
        let found = found
            .unwrap_or_else(|| panic!("published.tsv, line {}: no drill {}", self.number, self.id));
        found.root.clone()
    }

    /// What the row turns on.
    pub fn tags(&self) -> impl Iterator<Item = &'static str> {
        self.tags.split_whitespace()
    }

    /// True where the finding is the one the row asks for, of whatever class.
    pub fn is_told_by(&self, finding: &Finding) -> bool {
        finding.resource == self.resource
            && finding.ply.to_string() == self.ply
            && self.kinds.split(' ').any(|k| k == finding.kind.code())
    }
}

/// A tree from lines between `|`; a verdict may end a line.
pub fn tree(root: &Line, lines: &str) -> Tree {
    let mut tree = Tree::new(root.clone());
    for line in lines.split('|') {
        let mut at = NodeId::ROOT;
        for word in line.split_whitespace() {
            match Verdict::parse(word) {
                Ok(verdict) => tree.set_verdict(at, Some(verdict)).unwrap(),
                Err(_) => at = tree.add(at, word, Author::Player, 0).unwrap(),
            }
        }
    }
    tree
}
