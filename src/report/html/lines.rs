//! Moves as a page shows them, each with the position it leads to.

use askama::Template;

use crate::board::{Line, PositionKey};
use crate::notation::{self, Reading};
use crate::report::Subject;
use crate::text::safe;
use crate::tree::{Author, NodeId, Tree};

/// Deepest indentation of a row.
const INDENT_MAX: usize = 8;

/// One move.
#[derive(Template)]
#[template(
    ext = "html",
    source = r##"{% if !number.is_empty() %}<span class="number">{{ number }}</span>&nbsp;{% endif %}{% if struck %}<s>{% endif %}<span class="move{% if chosen %} chosen{% endif %}{% if !legal %} phantom{% endif %}"{% if legal %} data-men="{{ men }}"{% endif %}>{{ text }}</span>{% if struck %}</s>{% endif %}{% if !sign.is_empty() %} <span class="sign" title="{{ sign_words }}">{{ sign }}</span>{% endif %}{% if !words.is_empty() %} <q class="words">{{ words }}</q>{% endif %}{% for said in coach %} <span class="by">{{ said }}</span>{% endfor %} "##
)]
pub(super) struct Step {
    /// '17.' or '17…' where the eye needs it.
    pub number: String,
    pub text: String,
    /// The men after it, as in the first field of FEN; empty where it is not legal.
    pub men: String,
    pub sign: String,
    pub sign_words: String,
    pub words: String,
    /// What coaches said of it, each with his name.
    pub coach: Vec<String>,
    pub struck: bool,
    pub legal: bool,
    pub chosen: bool,
}

/// A run of moves without a branch.
pub(super) struct Row {
    pub indent: usize,
    pub coach: bool,
    pub steps: Vec<Step>,
}

/// The rows of a tree, a new one wherever it branches.
pub(super) fn rows(of: &Subject) -> Vec<Row> {
    let tree = &of.tree;
    let mut rows = Vec::new();
    let first = tree.children(NodeId::ROOT).iter().rev();
    let mut todo: Vec<(NodeId, usize)> = first.map(|n| (*n, 0)).collect();
    while let Some((start, indent)) = todo.pop() {
        let mut row = Row {
            indent: indent.min(INDENT_MAX),
            coach: author(tree, start) == Some(Author::Coach),
            steps: Vec::new(),
        };
        let mut at = Some(start);
        while let Some(node) = at {
            row.steps.push(step(of, node, row.steps.is_empty()));
            at = match tree.children(node) {
                // A row has one author.
                [only] if author(tree, *only) == author(tree, node) => Some(*only),
                children => {
                    todo.extend(children.iter().rev().map(|c| (*c, indent + 1)));
                    None
                }
            };
        }
        rows.push(row);
    }
    rows
}

fn author(tree: &Tree, id: NodeId) -> Option<Author> {
    tree.node(id).map(|n| n.author)
}

fn step(of: &Subject, id: NodeId, first: bool) -> Step {
    let (tree, choice) = (&of.tree, of.choice);
    let before = tree.root().game_ply() + tree.ply(id).saturating_sub(1);
    let node = tree.node(id);
    let verdict = node.and_then(|n| n.verdict);
    let men = tree.line(id).map(|l| men(&l)).unwrap_or_default();
    Step {
        number: number(before, first),
        text: safe(&tree.san(id)).into_owned(),
        legal: !men.is_empty(),
        men,
        sign: verdict.map(|v| v.to_string()).unwrap_or_default(),
        sign_words: verdict.map(|v| v.words()).unwrap_or_default(),
        words: node
            .map(|n| safe(&n.comment).into_owned())
            .unwrap_or_default(),
        coach: of.said_at(id).map(|w| safe(&w).into_owned()).collect(),
        struck: node.is_some_and(|n| n.struck),
        chosen: Some(id) == choice,
    }
}

/// The move number before the half-move with `before` half-moves of the game behind it.
fn number(before: usize, first: bool) -> String {
    match before.is_multiple_of(2) {
        true => format!("{}.", before / 2 + 1),
        false if first => format!("{}…", before / 2 + 1),
        false => String::new(),
    }
}

fn men(line: &Line) -> String {
    PositionKey::of(line.position()).men().to_owned()
}

/// The line reached by moves in SAN, as far as they are legal.
pub(super) fn reached(root: &Line, sans: &[String]) -> Line {
    let mut line = root.clone();
    for san in sans {
        if !pushed(&mut line, san) {
            break;
        }
    }
    line
}

fn pushed(line: &mut Line, san: &str) -> bool {
    let Ok(token) = notation::parse(san) else {
        return false;
    };
    match notation::resolve(&token, line) {
        Reading::Legal(mv) => line.push(&mv).is_ok(),
        _ => false,
    }
}

/// Moves in SAN that go on from `from`.
pub(super) fn steps(from: &Line, sans: &[String]) -> Vec<Step> {
    let mut line = from.clone();
    let mut alive = true;
    let mut steps = Vec::new();
    for (i, san) in sans.iter().enumerate() {
        let before = from.game_ply() + i;
        alive = alive && pushed(&mut line, san);
        steps.push(Step {
            number: number(before, i == 0),
            text: safe(san).into_owned(),
            men: if alive { men(&line) } else { String::new() },
            sign: String::new(),
            sign_words: String::new(),
            words: String::new(),
            coach: Vec::new(),
            struck: false,
            legal: alive,
            chosen: false,
        });
    }
    steps
}

/// Half-moves of the game before a line's present position, by its move number.
trait GamePly {
    fn game_ply(&self) -> usize;
}

impl GamePly for Line {
    fn game_ply(&self) -> usize {
        use shakmaty::Position;
        let position = self.position();
        (u32::from(position.fullmoves()) as usize - 1) * 2 + usize::from(position.turn().is_black())
    }
}
