//! The written tree as indented text: exactly what was typed, in the order of writing.
//!
//! A row is one unbroken line of moves; where the tree branches, each alternative begins a row of
//! its own, two columns further in. Nothing here depends on whether a move is possible.

use std::collections::HashSet;

use shakmaty::Color;

use crate::text;
use crate::tree::{NodeId, Tree};
use crate::tui::widgets::canvas::{Canvas, ClickTarget, TextStyle};
use crate::tui::widgets::tree_cursor::{as_typed, rows};

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
    pub mark: &'a dyn Fn(NodeId) -> Option<String>,
    pub ascii: bool,
}

/// No marks: everything before the commit.
pub fn unmarked(_: NodeId) -> Option<String> {
    None
}

/// One word of the tree at its place, rows counted from the top of the whole tree.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Word {
    row: usize,
    x: usize,
    text: String,
    style: TextStyle,
    node: NodeId,
}

impl TreeView<'_> {
    /// Draws into an area (column, row, columns, rows) and scrolls so that the cursor can be seen.
    pub fn draw(&self, canvas: &mut Canvas, (x, y, width, height): (usize, usize, usize, usize)) {
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
                canvas.clickable(x, row, width, 1, ClickTarget::Node(word.node));
            }
            let end = canvas.put(x + word.x, row, &word.text, word.style);
            canvas.clickable(
                x + word.x,
                row,
                end - x - word.x,
                1,
                ClickTarget::Node(word.node),
            );
        }
        let below = total.saturating_sub(skipped + height);
        self.more(canvas, (x + width, y), (skipped, "↑", "^"));
        self.more(canvas, (x + width, y + height), (below, "↓", "v"));
    }

    /// How many rows are out of sight, in the row before or behind the tree.
    fn more(
        &self,
        canvas: &mut Canvas,
        (right, y): (usize, usize),
        (rows, sign, plain): (usize, &str, &str),
    ) {
        if rows == 0 {
            return;
        }
        let sign = if self.ascii { plain } else { sign };
        let words = tr!("{sign} {rows} more");
        let y = if sign == "↑" || sign == "^" {
            y.saturating_sub(1)
        } else {
            y
        };
        canvas.put(
            right.saturating_sub(text::width(&words)),
            y,
            &words,
            TextStyle::QUIET,
        );
    }

    /// Rows that the whole tree takes in so many columns.
    #[must_use]
    pub fn rows(&self, width: usize) -> usize {
        self.layout(width).last().map_or(0, |w| w.row + 1)
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
        let style = TextStyle::PLAIN.struck(struck);
        let style = style.turned(self.cursor == Some(id));
        // Not every terminal can strike through: the brackets say it too.
        let text = if struck {
            format!("[{}]", node.text)
        } else {
            node.text.clone()
        };
        flow.move_(&lead, &text, style, id);
        if let Some(verdict) = node.verdict {
            flow.word(&verdict.to_string(), TextStyle::ACCENT, id);
        }
        for word in self.beside(id) {
            flow.word(&word, TextStyle::QUIET, id);
        }
        if let Some(mark) = (self.mark)(id) {
            for word in format!("({mark})").split_whitespace() {
                flow.word(word, TextStyle::ALERT, id);
            }
        }
        if !node.comment.is_empty() {
            for word in format!("{{{}}}", node.comment).split_whitespace() {
                flow.word(word, TextStyle::QUIET, id);
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
            words.push(tr!("(only named)").to_owned());
        }
        if let Some(other) = node.same_as {
            let line = as_typed(self.tree, other).join(" ");
            words.extend(tr!("(same as {line})").split(' ').map(str::to_owned));
        }
        let hidden = below(self.tree, id);
        if hidden > 0 && (self.folded.contains(&id) || self.candidates_only) {
            // Never a plus: it would read as a verdict.
            words.push(format!("({hidden}"));
            words.push(tr!("more)").to_owned());
        }
        words
    }
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
            self.place(self.indent - 2, sign, TextStyle::ACCENT.bold(), node);
        }
    }

    fn move_(&mut self, lead: &str, text: &str, style: TextStyle, node: NodeId) {
        self.make_room(text::width(lead) + text::width(text));
        if !lead.is_empty() {
            self.place(self.x, lead, TextStyle::QUIET, node);
            self.x += text::width(lead);
        }
        self.place(self.x, text, style, node);
        self.x += text::width(text) + 1;
    }

    fn word(&mut self, text: &str, style: TextStyle, node: NodeId) {
        self.make_room(text::width(text));
        self.place(self.x, text, style, node);
        self.x += text::width(text) + 1;
    }

    fn make_room(&mut self, wanted: usize) {
        let hanging = self.indent + 4;
        if self.x + wanted > self.width && self.x > hanging {
            self.row = self.row.map(|r| r + 1);
            self.x = hanging;
        }
    }

    fn place(&mut self, x: usize, text: &str, style: TextStyle, node: NodeId) {
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
            style,
            node,
        });
    }
}
