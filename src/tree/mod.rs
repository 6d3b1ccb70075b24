//! The written tree: what a player put down before he moved, exactly as he typed it.
//!
//! Takes a root [`Line`] and edits; gives nodes with their text, their [`Reading`], verdict,
//! comment, author and time, in the order of writing. A node is one half-move. Nothing here judges:
//! an impossible move is kept like any other. [`pgn`] reads and writes trees as PGN.

mod edit;
pub mod pgn;
mod verdict;

use shakmaty::{Chess, Move, Position};

use crate::board::{Line, line};
use crate::notation::{self, Reading, Shape, Token, Unreadable};

pub use verdict::{Sign, Verdict, VerdictError};

/// Most half-moves a tree may hold; a larger one is refused where it comes in.
pub const NODES_MAX: usize = 10_000;
/// Longest line in half-moves.
pub const DEPTH_MAX: usize = 200;

/// A node of one tree: its place in the order of writing, the root being 0.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize,
)]
#[serde(transparent)]
pub struct NodeId(pub u32);

impl NodeId {
    /// The root: the position itself, before any move.
    pub const ROOT: Self = Self(0);
}

/// Who wrote a node.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Author {
    #[default]
    Player,
    Coach,
    Published,
    Engine,
}

/// One written half-move.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Node {
    /// As typed.
    pub text: String,
    /// What the text says by itself.
    pub token: Token,
    /// What it says where it stands.
    pub reading: Reading,
    pub verdict: Option<Verdict>,
    pub comment: String,
    pub author: Author,
    /// Milliseconds since the sitting began; 0 where unknown.
    pub at_ms: u64,
    /// Struck out by its writer: kept and shown, no longer part of what he means.
    pub struck: bool,
    /// Named as a candidate and left at that on purpose: no line belongs to it.
    pub only: bool,
    /// Another written move that leads to the same position, as its writer sees it.
    pub same_as: Option<NodeId>,
    parent: NodeId,
    children: Vec<NodeId>,
}

/// Why an edit of a tree was refused. The tree is unchanged.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum EditError {
    #[error(transparent)]
    Unreadable(#[from] Unreadable),
    #[error("{}", tr!("there is no move number {0} in this tree", _0))]
    NoSuchNode(u32),
    #[error("{}", tr!("the root is a position, not a move"))]
    Root,
    #[error("{}", tr!("a tree holds at most {NODES_MAX} moves"))]
    TooManyNodes,
    #[error("{}", tr!("a line holds at most {DEPTH_MAX} half-moves"))]
    TooDeep,
    #[error("{}", tr!("move {node} does not have {wanted} places among its alternatives"))]
    NoSuchPlace { node: u32, wanted: usize },
    #[error("{}", tr!("a move cannot stand below itself"))]
    BelowItself,
    #[error("{}", tr!("'{0}' stands there already", _0))]
    Twice(String),
    #[error("{}", tr!("'{0}' is not one of the moves the text can mean", _0))]
    NotAMeaning(String),
}

/// A shape without its `x`: whether something is taken there is for the position to say.
fn plain(shape: &Shape) -> Shape {
    let mut plain = shape.clone();
    if let Shape::Step { capture, .. } = &mut plain {
        *capture = false;
    }
    plain
}

/// The tree. Nodes are never removed: what is struck out stays readable.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tree {
    root: Line,
    root_children: Vec<NodeId>,
    nodes: Vec<Node>,
}

impl Tree {
    /// An empty tree on the position `root` has reached; that position becomes its root.
    #[must_use]
    pub fn new(root: Line) -> Self {
        Self {
            root: root.rooted_here(),
            root_children: Vec::new(),
            nodes: Vec::new(),
        }
    }

    /// The root position with the game before it.
    #[must_use]
    pub fn root(&self) -> &Line {
        &self.root
    }

    /// Number of nodes ever written, struck ones included, the root not.
    #[must_use]
    pub fn len(&self) -> usize {
        self.nodes.len()
    }

    /// True where nothing has been written.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.nodes.is_empty()
    }

    /// The node, or `None` for the root and for numbers this tree does not have.
    #[must_use]
    pub fn node(&self, id: NodeId) -> Option<&Node> {
        self.nodes.get((id.0 as usize).checked_sub(1)?)
    }

    /// All nodes in the order of writing.
    pub fn nodes(&self) -> impl Iterator<Item = (NodeId, &Node)> {
        (1u32..).map(NodeId).zip(&self.nodes)
    }

    /// The moves written in answer to `id`, in the order of writing (or as reordered), struck ones
    /// included.
    #[must_use]
    pub fn children(&self, id: NodeId) -> &[NodeId] {
        match self.node(id) {
            Some(node) => &node.children,
            None if id == NodeId::ROOT => &self.root_children,
            None => &[],
        }
    }

    /// The children that are not struck out.
    pub fn standing(&self, id: NodeId) -> impl Iterator<Item = NodeId> + '_ {
        self.children(id)
            .iter()
            .copied()
            .filter(|c| self.node(*c).is_some_and(|n| !n.struck))
    }

    /// The node this one answers; `None` for the root.
    #[must_use]
    pub fn parent(&self, id: NodeId) -> Option<NodeId> {
        self.node(id).map(|n| n.parent)
    }

    /// From the first move after the root down to `id`; empty for the root.
    #[must_use]
    pub fn path(&self, id: NodeId) -> Vec<NodeId> {
        let mut path = Vec::new();
        let mut at = id;
        while let Some(node) = self.node(at) {
            path.push(at);
            at = node.parent;
        }
        path.reverse();
        path
    }

    /// Half-moves from the root to `id`.
    #[must_use]
    pub fn ply(&self, id: NodeId) -> usize {
        self.path(id).len()
    }

    /// The line to `id`; `None` where a move on the way has no one legal meaning.
    #[must_use]
    pub fn line(&self, id: NodeId) -> Option<Line> {
        let mut line = self.root.clone();
        for step in self.path(id) {
            line.push(self.legal(step)?).ok()?;
        }
        Some(line)
    }

    /// The legal move a node means, if it means exactly one.
    #[must_use]
    pub fn legal(&self, id: NodeId) -> Option<&Move> {
        match &self.node(id)?.reading {
            Reading::Legal(mv) => Some(mv),
            _ => None,
        }
    }

    /// The move in Standard Algebraic Notation where it is legal, else as typed.
    #[must_use]
    pub fn san(&self, id: NodeId) -> String {
        let Some(node) = self.node(id) else {
            return String::new();
        };
        match (self.line(node.parent), &node.reading) {
            (Some(before), Reading::Legal(mv)) => line::san(before.position(), mv),
            _ => node.text.clone(),
        }
    }

    /// [`Tree::san`] for every move from the root to `id`.
    #[must_use]
    pub fn sans(&self, id: NodeId) -> Vec<String> {
        self.path(id).into_iter().map(|n| self.san(n)).collect()
    }

    /// Writes a move below `parent`. A move that stands there already (the same text, or another text
    /// for the same legal move) is not written twice: its node is given back, no longer struck out.
    ///
    /// # Errors
    /// The text is no move of any kind, `parent` does not exist, or the tree is full.
    pub fn add(
        &mut self,
        parent: NodeId,
        text: &str,
        author: Author,
        at_ms: u64,
    ) -> Result<NodeId, EditError> {
        let token = notation::parse(text.trim())?;
        let reading = self.reading(parent, &token);
        let twin = self.twin(parent, text.trim(), &reading);
        self.insert(parent, (text.trim(), token, reading), twin, (author, at_ms))
    }

    /// Writes a move while its writer looks on. It joins a move that stands there already only where
    /// the two texts are the same but for `x`, `+` and `#`: a tree that joined what is the same legal
    /// move would tell its writer that it is legal.
    ///
    /// # Errors
    /// As [`Tree::add`].
    pub fn add_as_typed(
        &mut self,
        parent: NodeId,
        text: &str,
        author: Author,
        at_ms: u64,
    ) -> Result<NodeId, EditError> {
        let token = notation::parse(text.trim())?;
        let reading = self.reading(parent, &token);
        let twin = self.typed_twin(parent, &token);
        self.insert(parent, (text.trim(), token, reading), twin, (author, at_ms))
    }

    fn reading(&self, parent: NodeId, token: &Token) -> Reading {
        let Some(position) = self.position(parent) else {
            return Reading::Unplaced;
        };
        let mut meant = notation::meanings(token, &position);
        match (meant.len(), meant.pop()) {
            (1, Some(only)) => Reading::Legal(only),
            // Why it is not possible may lie in the moves before.
            (0, _) => self
                .line(parent)
                .map_or(Reading::Unplaced, |line| notation::resolve(token, &line)),
            (_, last) => Reading::Ambiguous(meant.into_iter().chain(last).collect()),
        }
    }

    /// The position after a node, without what led to it; `None` below a move that is not legal.
    fn position(&self, id: NodeId) -> Option<Chess> {
        let mut position = self.root.position().clone();
        for step in self.path(id) {
            position.play_unchecked(self.legal(step)?);
        }
        Some(position)
    }

    fn insert(
        &mut self,
        parent: NodeId,
        (text, token, reading): (&str, Token, Reading),
        twin: Option<NodeId>,
        (author, at_ms): (Author, u64),
    ) -> Result<NodeId, EditError> {
        self.check(parent)?;
        if let Some(twin) = twin {
            self.node_mut(twin)?.struck = false;
            return Ok(twin);
        }
        if self.nodes.len() >= NODES_MAX {
            return Err(EditError::TooManyNodes);
        }
        if self.ply(parent) >= DEPTH_MAX {
            return Err(EditError::TooDeep);
        }
        self.nodes.push(Node {
            text: text.to_owned(),
            token,
            reading,
            verdict: None,
            comment: String::new(),
            author,
            at_ms,
            struck: false,
            only: false,
            same_as: None,
            parent,
            children: Vec::new(),
        });
        let id = NodeId(u32::try_from(self.nodes.len()).map_err(|_| EditError::TooManyNodes)?);
        self.siblings(parent).push(id);
        Ok(id)
    }

    /// The move below `parent` that [`Tree::add_as_typed`] gives back for `text` instead of writing it
    /// again.
    #[must_use]
    pub fn find_as_typed(&self, parent: NodeId, text: &str) -> Option<NodeId> {
        self.typed_twin(parent, &notation::parse(text.trim()).ok()?)
    }

    fn typed_twin(&self, parent: NodeId, token: &Token) -> Option<NodeId> {
        let shape = plain(&token.shape);
        let is_same = |c: &NodeId| {
            self.node(*c)
                .is_some_and(|n| plain(&n.token.shape) == shape)
        };
        self.children(parent).iter().copied().find(is_same)
    }

    fn twin(&self, parent: NodeId, text: &str, reading: &Reading) -> Option<NodeId> {
        self.children(parent).iter().copied().find(|c| {
            self.node(*c).is_some_and(|n| {
                n.text == text || (matches!(reading, Reading::Legal(_)) && n.reading == *reading)
            })
        })
    }

    fn check(&self, id: NodeId) -> Result<(), EditError> {
        if id == NodeId::ROOT || self.node(id).is_some() {
            Ok(())
        } else {
            Err(EditError::NoSuchNode(id.0))
        }
    }

    // In bounds by the guard; a conditional borrow by `get_mut` is refused by the borrow checker.
    #[allow(clippy::indexing_slicing)]
    fn siblings(&mut self, parent: NodeId) -> &mut Vec<NodeId> {
        match (parent.0 as usize).checked_sub(1) {
            Some(i) if i < self.nodes.len() => &mut self.nodes[i].children,
            _ => &mut self.root_children,
        }
    }

    fn node_mut(&mut self, id: NodeId) -> Result<&mut Node, EditError> {
        let i = (id.0 as usize).checked_sub(1).ok_or(EditError::Root)?;
        self.nodes.get_mut(i).ok_or(EditError::NoSuchNode(id.0))
    }

    /// True where neither the move nor any move on the way to it is struck out.
    #[must_use]
    pub fn stands(&self, id: NodeId) -> bool {
        self.path(id)
            .iter()
            .all(|n| self.node(*n).is_some_and(|n| !n.struck))
    }

    /// The moves that end a line: standing, with nothing standing below.
    #[must_use]
    pub fn leaves(&self) -> Vec<NodeId> {
        self.nodes()
            .map(|(id, _)| id)
            .filter(|id| self.stands(*id) && self.standing(*id).next().is_none())
            .collect()
    }
}
