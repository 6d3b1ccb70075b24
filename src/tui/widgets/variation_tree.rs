//! The written tree as indented text: exactly what was typed, in the order of writing.
//!
//! A row is one unbroken line of moves; where the tree branches, each alternative begins a row of
//! its own, two columns further in. Nothing here depends on whether a move is possible.

use std::collections::HashSet;

use shakmaty::Color;

use crate::text;
use crate::tree::{NodeId, Tree};
use crate::tui::widgets::canvas::{Hit, Ink, Page};

/// What to show of the tree.
pub struct TreeView<'a> {
    pub tree: &'a Tree,
    pub choice: Option<NodeId>,
    pub cursor: Option<NodeId>,
    /// The candidates alone, each with its verdict and words.
    pub candidates_only: bool,
    /// Moves below which nothing is shown.
    pub folded: &'a HashSet<NodeId>,
    /// A word behind a move, after the commit: what became of it.
    pub mark: &'a dyn Fn(NodeId) -> Option<&'static str>,
    pub ascii: bool,
}

/// No marks: everything before the commit.
pub fn unmarked(_: NodeId) -> Option<&'static str> {
    None
}

/// One word of the tree at its place, rows counted from the top of the whole tree.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Word {
    row: usize,
    x: usize,
    text: String,
    ink: Ink,
    node: NodeId,
}

/// Rows of moves: how far in, and which.
fn rows(tree: &Tree, candidates_only: bool, folded: &HashSet<NodeId>) -> Vec<(usize, Vec<NodeId>)> {
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

impl TreeView<'_> {
    /// Draws into an area (column, row, columns, rows) and scrolls so that the cursor can be seen.
    pub fn draw(&self, page: &mut Page, (x, y, width, height): (usize, usize, usize, usize)) {
        let words = self.layout(width);
        let total = words.last().map_or(0, |w| w.row + 1);
        let focus = words.iter().find(|w| Some(w.node) == self.cursor);
        let focus = focus.map_or(0, |w| w.row);
        let skipped = focus
            .saturating_sub(height / 2)
            .min(total.saturating_sub(height));
        let in_sight = |w: &&Word| (skipped..skipped + height).contains(&w.row);
        let mut above = None;
        for word in words.iter().filter(in_sight) {
            let row = y + word.row - skipped;
            if above.replace(row) != Some(row) {
                page.hit(x, row, width, 1, Hit::Node(word.node));
            }
            let end = page.put(x + word.x, row, &word.text, word.ink);
            page.hit(x + word.x, row, end - x - word.x, 1, Hit::Node(word.node));
        }
        let below = total.saturating_sub(skipped + height);
        self.more(page, (x + width, y), (skipped, "↑", "^"));
        self.more(page, (x + width, y + height), (below, "↓", "v"));
    }

    /// How many rows are out of sight, in the row before or behind the tree.
    fn more(
        &self,
        page: &mut Page,
        (right, y): (usize, usize),
        (rows, sign, plain): (usize, &str, &str),
    ) {
        if rows == 0 {
            return;
        }
        let sign = if self.ascii { plain } else { sign };
        let words = format!("{sign} {rows} more");
        let y = if sign == "↑" || sign == "^" {
            y.saturating_sub(1)
        } else {
            y
        };
        page.put(
            right.saturating_sub(text::width(&words)),
            y,
            &words,
            Ink::QUIET,
        );
    }

    fn layout(&self, width: usize) -> Vec<Word> {
        let mut flow = Flow::new(width);
        for (indent, row) in rows(self.tree, self.candidates_only, self.folded) {
            flow.new_row(2 + 2 * indent.min(width / 6));
            if let Some(node) = row.first() {
                flow.sign(self.sign(*node), *node);
            }
            for (i, node) in row.iter().enumerate() {
                self.words(&mut flow, *node, i == 0);
            }
        }
        flow.words
    }

    /// The mark before the chosen candidate.
    fn sign(&self, node: NodeId) -> &'static str {
        match (self.choice == Some(node), self.ascii) {
            (false, _) => "",
            (true, true) => ">",
            (true, false) => "►",
        }
    }

    fn words(&self, flow: &mut Flow, id: NodeId, starts_row: bool) {
        let Some(node) = self.tree.node(id) else {
            return;
        };
        let lead = number(self.tree, id, starts_row, self.ascii);
        let struck = !self.tree.stands(id);
        // Not bold: a terminal ends 'dim' (the numbers) and 'bold' with the same code.
        let ink = Ink::PLAIN.struck(struck);
        let ink = ink.turned(self.cursor == Some(id));
        // Not every terminal can strike through: the brackets say it too.
        let text = if struck {
            format!("[{}]", node.text)
        } else {
            node.text.clone()
        };
        flow.move_(&lead, &text, ink, id);
        if let Some(verdict) = node.verdict {
            flow.word(&verdict.to_string(), Ink::ACCENT, id);
        }
        for word in self.beside(id) {
            flow.word(&word, Ink::QUIET, id);
        }
        if let Some(mark) = (self.mark)(id) {
            flow.word(&format!("({mark})"), Ink::ALERT, id);
        }
        if !node.comment.is_empty() {
            for word in format!("{{{}}}", node.comment).split_whitespace() {
                flow.word(word, Ink::QUIET, id);
            }
        }
    }
}

impl TreeView<'_> {
    /// What the player said of a move beside its verdict and words.
    fn beside(&self, id: NodeId) -> Vec<String> {
        let mut words = Vec::new();
        let Some(node) = self.tree.node(id) else {
            return words;
        };
        if node.only {
            words.push("(only named)".to_owned());
        }
        if let Some(other) = node.same_as {
            let line = as_typed(self.tree, other).join(" ");
            words.extend(format!("(same as {line})").split(' ').map(str::to_owned));
        }
        let hidden = below(self.tree, id);
        if hidden > 0 && (self.folded.contains(&id) || self.candidates_only) {
            words.push(format!("+{hidden}"));
        }
        words
    }
}

/// The moves to a node as typed.
#[must_use]
pub fn as_typed(tree: &Tree, node: NodeId) -> Vec<&str> {
    let path = tree.path(node);
    let nodes = path.iter().filter_map(|n| tree.node(*n));
    nodes.map(|n| n.text.as_str()).collect()
}

/// How many moves stand below one.
fn below(tree: &Tree, id: NodeId) -> usize {
    let mut count = 0;
    let mut todo = tree.children(id).to_vec();
    while let Some(at) = todo.pop() {
        count += 1;
        todo.extend_from_slice(tree.children(at));
    }
    count
}

/// The move's number: before every move of White, and before Black's where a row starts.
fn number(tree: &Tree, id: NodeId, starts_row: bool, ascii: bool) -> String {
    let root = tree.root();
    let plies = tree.ply(id).saturating_sub(1);
    let black_first = usize::from(root.player() == Color::Black);
    let full = first_number(tree) + (plies + black_first) / 2;
    match ((plies + black_first) % 2, starts_row) {
        (0, _) => format!("{full}."),
        (_, true) if ascii => format!("{full}..."),
        (_, true) => format!("{full}…"),
        (_, false) => String::new(),
    }
}

fn first_number(tree: &Tree) -> usize {
    use shakmaty::Position;
    usize::try_from(tree.root().root().fullmoves().get()).unwrap_or(1)
}

/// Words placed one behind the other, with a new row where the next does not fit.
struct Flow {
    width: usize,
    words: Vec<Word>,
    row: Option<usize>,
    x: usize,
    indent: usize,
}

impl Flow {
    fn new(width: usize) -> Self {
        Self {
            width,
            words: Vec::new(),
            row: None,
            x: 0,
            indent: 0,
        }
    }

    fn new_row(&mut self, indent: usize) {
        self.row = Some(self.row.map_or(0, |r| r + 1));
        self.indent = indent;
        self.x = indent;
    }

    /// A sign before the row.
    fn sign(&mut self, sign: &str, node: NodeId) {
        if !sign.is_empty() {
            self.place(self.indent - 2, sign, Ink::ACCENT.bold(), node);
        }
    }

    fn move_(&mut self, lead: &str, text: &str, ink: Ink, node: NodeId) {
        self.make_room(text::width(lead) + text::width(text));
        if !lead.is_empty() {
            self.place(self.x, lead, Ink::QUIET, node);
            self.x += text::width(lead);
        }
        self.place(self.x, text, ink, node);
        self.x += text::width(text) + 1;
    }

    fn word(&mut self, text: &str, ink: Ink, node: NodeId) {
        self.make_room(text::width(text));
        self.place(self.x, text, ink, node);
        self.x += text::width(text) + 1;
    }

    fn make_room(&mut self, wanted: usize) {
        let hanging = self.indent + 4;
        if self.x + wanted > self.width && self.x > hanging {
            self.row = self.row.map(|r| r + 1);
            self.x = hanging;
        }
    }

    fn place(&mut self, x: usize, text: &str, ink: Ink, node: NodeId) {
        let room = self.width.saturating_sub(x);
        let text = if text::width(text) > room {
            text::fit(text, room)
        } else {
            text.to_owned()
        };
        self.words.push(Word {
            row: self.row.unwrap_or(0),
            x,
            text,
            ink,
            node,
        });
    }
}

/// Where the arrows lead.
pub mod walk {
    use std::collections::HashSet;

    use super::{NodeId, Tree, rows};

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
}
