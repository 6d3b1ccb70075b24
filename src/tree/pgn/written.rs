//! The trees that a player wrote in a game.

use super::{Chosen, Game};
use crate::board::Line;
use crate::tree::{Author, NodeId, Tree};

/// What a player wrote at one position.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    /// The tree; its root line carries the game before the position, where it is known.
    pub tree: Tree,
    /// What he played or chose: a candidate of the tree.
    pub choice: Option<NodeId>,
    /// Half-moves of the game before the position, by its move number.
    pub game_ply: usize,
    /// His clock before the move, in milliseconds.
    pub clock_before_ms: Option<u64>,
    /// His clock after it.
    pub clock_after_ms: Option<u64>,
    /// Words on the position: what was said about the move that led to it.
    pub comment: String,
    /// For each node of the tree, in the order of writing, its place in [`Game::moves`].
    pub source: Vec<usize>,
}

impl Written {
    /// The position with the game before it.
    #[must_use]
    pub fn root(&self) -> &Line {
        self.tree.root()
    }
}

/// The written trees of a game, in the order of the game.
///
/// A game with a FEN tag is one tree: its main line is the line of the choice, and all variations,
/// however nested, belong to it. This is how an attempt is sent and comes back
/// ([`super::write_tree`]). In any other game there is one tree at each position of the main line where
/// variations stand: the player is the side to move, the game's own move is the choice, the first
/// moves of the variations are the candidates, and what follows in them are the lines. The game's
/// further moves are no written line; a variation that begins with the game's own move is what he
/// calculated behind it.
///
/// Reading a game bounds its moves and the length of its lines so that every tree can hold them.
#[must_use]
pub fn written_trees(game: &Game) -> Vec<Written> {
    if game.from_fen {
        return from_fen(game).into_iter().collect();
    }
    let children = game.children();
    let mut trees = Vec::new();
    let mut line = Line::new(game.start.clone());
    for (ply, played) in game.main.iter().enumerate() {
        let before = ply.checked_sub(1).and_then(|p| game.main.get(p)).copied();
        let written = children.of(before);
        if written.len() > 1 {
            trees.extend(at_move(game, &line, ply, *played, written, &children));
        }
        match game.main_moves.get(ply) {
            Some(mv) if line.push(mv).is_ok() => {}
            _ => break,
        }
    }
    trees
}

fn from_fen(game: &Game) -> Option<Written> {
    let mut writer = Writer::new(game, Line::new(game.start.clone()));
    let children = game.children();
    writer.below(NodeId::ROOT, children.of(None), &children, |_| false);
    let chosen = match game.choice {
        Chosen::Main => game.main.first().copied(),
        Chosen::Nothing => None,
        Chosen::Aside(i) => Some(i),
    };
    let choice = chosen.and_then(|c| writer.node_of(c));
    (!writer.tree.is_empty()).then(|| Written {
        game_ply: game_ply(&writer.tree),
        clock_before_ms: None,
        clock_after_ms: chosen.and_then(|c| game.moves.get(c)?.clock_ms),
        comment: game.comment.clone(),
        choice,
        tree: writer.tree,
        source: writer.source,
    })
}

fn at_move(
    game: &Game,
    line: &Line,
    ply: usize,
    played: usize,
    written: &[usize],
    children: &super::Children,
) -> Option<Written> {
    let mut writer = Writer::new(game, line.clone());
    // The game's own move is a candidate; what follows it in the game is not his writing.
    writer.below(NodeId::ROOT, written, children, |i| i == played);
    let choice = writer.node_of(played);
    let clock = |back: usize| {
        let place = ply.checked_sub(back).and_then(|p| game.main.get(p))?;
        game.moves.get(*place)?.clock_ms
    };
    let comment = match ply.checked_sub(1).and_then(|p| game.main.get(p)) {
        Some(before) => game.moves.get(*before).map(|m| m.comment.clone()),
        None => Some(game.comment.clone()),
    };
    Some(Written {
        game_ply: game_ply(&writer.tree),
        clock_before_ms: clock(2),
        clock_after_ms: clock(0),
        comment: comment.unwrap_or_default(),
        choice,
        tree: writer.tree,
        source: writer.source,
    })
}

fn game_ply(tree: &Tree) -> usize {
    use shakmaty::Position;
    let root = tree.root().position();
    (u32::from(root.fullmoves()) as usize - 1) * 2 + usize::from(root.turn().is_black())
}

struct Writer<'g> {
    game: &'g Game,
    tree: Tree,
    source: Vec<usize>,
    /// The node that each move of the game has become.
    nodes: Vec<(usize, NodeId)>,
}

impl<'g> Writer<'g> {
    fn new(game: &'g Game, root: Line) -> Self {
        Self {
            game,
            tree: Tree::new(root),
            source: Vec::new(),
            nodes: Vec::new(),
        }
    }

    fn node_of(&self, place: usize) -> Option<NodeId> {
        self.nodes
            .iter()
            .find(|(p, _)| *p == place)
            .map(|(_, n)| *n)
    }

    /// Writes moves and all that stands below them, except below those where it `ends`.
    fn below(
        &mut self,
        parent: NodeId,
        moves: &[usize],
        children: &super::Children,
        ends: impl Fn(usize) -> bool,
    ) {
        let mut todo: Vec<(NodeId, usize)> = moves.iter().rev().map(|m| (parent, *m)).collect();
        while let Some((parent, place)) = todo.pop() {
            let Some(node) = self.write(parent, place) else {
                continue;
            };
            if !ends(place) {
                let answers = children.of(Some(place)).iter().rev();
                todo.extend(answers.map(|m| (node, *m)));
            }
        }
    }

    fn write(&mut self, parent: NodeId, place: usize) -> Option<NodeId> {
        let mv = self.game.moves.get(place)?;
        let added = self.tree.add(parent, &mv.text, Author::Player, 0);
        // The reader has parsed every text and kept to the limits of a tree.
        debug_assert!(added.is_ok(), "{added:?}");
        let node = added.ok()?;
        self.nodes.push((place, node));
        if self.source.len() < self.tree.len() {
            self.source.push(place);
        }
        let verdict = mv.verdict.or(self.tree.node(node)?.verdict);
        let before = self.tree.node(node)?.comment.clone();
        let words = format!("{before} {}", mv.comment);
        self.tree.set_verdict(node, verdict).ok()?;
        self.tree.set_comment(node, &words).ok()?;
        Some(node)
    }
}
