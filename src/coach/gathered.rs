//! What stands in a game, place by place, joined to the tree it belongs to.

use std::collections::{BTreeMap, HashMap};

use crate::attempt::{Coached, FoldError, Remark};
use crate::board::line;
use crate::notation::{self, Reading};
use crate::tree::pgn::Game;
use crate::tree::{NodeId, Tree, Verdict};

/// All that a game says about one move.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Said {
    pub comments: Vec<String>,
    pub verdicts: Vec<Verdict>,
    /// Glyphs about the move.
    pub nags: Vec<u8>,
}

/// A game's moves as nodes of the tree they were joined to.
#[derive(Debug, Clone, Default)]
pub(super) struct Gathered {
    pub places: BTreeMap<NodeId, Said>,
    /// Moves that were not in the tree, in the order in which they were written below each other.
    pub added: Vec<(NodeId, Remark)>,
    /// The first move of the game's main line.
    pub main: Option<NodeId>,
}

/// Joins a game to the tree of `coached`; moves that the tree does not have are added to it.
///
/// # Errors
/// The tree can hold no more.
pub(super) fn gather(game: &Game, coached: &mut Coached, by: &str) -> Result<Gathered, FoldError> {
    let mut index = index(coached.tree());
    let mut nodes: Vec<NodeId> = Vec::with_capacity(game.moves.len());
    let mut gathered = Gathered::default();
    let root = gathered.places.entry(NodeId::ROOT).or_default();
    root.comments.extend(lines(&game.comment));
    for mv in &game.moves {
        // Moves stand behind the move they answer.
        let parent = match mv.parent {
            None => NodeId::ROOT,
            Some(p) => nodes.get(p).copied().unwrap_or(NodeId::ROOT),
        };
        let key = (parent, key(coached.tree(), parent, &mv.text));
        let node = match index.get(&key) {
            Some(node) => *node,
            None => {
                let text = mv.text.clone();
                let remark = Remark::Added { parent, text };
                coached.apply(by, &remark)?;
                let node = newest(coached.tree());
                index.insert(key, node);
                gathered.added.push((node, remark));
                node
            }
        };
        nodes.push(node);
        let said = gathered.places.entry(node).or_default();
        said.comments.extend(lines(&mv.comment));
        say_glyphs(said, &mv.nags, mv.verdict);
    }
    gathered.main = game.main.first().and_then(|m| nodes.get(*m)).copied();
    Ok(gathered)
}

fn lines(comment: &str) -> impl Iterator<Item = String> + '_ {
    comment.lines().map(str::to_owned)
}

fn say_glyphs(said: &mut Said, nags: &[u8], sign: Option<Verdict>) {
    for nag in nags {
        match Verdict::from_nag(*nag) {
            Some(verdict) => note(&mut said.verdicts, verdict),
            None => note(&mut said.nags, *nag),
        }
    }
    if let Some(sign) = sign {
        note(&mut said.verdicts, sign);
    }
}

fn note<T: PartialEq>(list: &mut Vec<T>, item: T) {
    if !list.contains(&item) {
        list.push(item);
    }
}

fn newest(tree: &Tree) -> NodeId {
    tree.nodes().last().map_or(NodeId::ROOT, |(id, _)| id)
}

fn index(tree: &Tree) -> HashMap<(NodeId, String), NodeId> {
    let mut index = HashMap::new();
    for (id, node) in tree.nodes() {
        let key = match &node.reading {
            Reading::Legal(mv) => line::uci(mv),
            _ => squeezed(&node.text),
        };
        let parent = tree.parent(id).unwrap_or(NodeId::ROOT);
        index.entry((parent, key)).or_insert(id);
    }
    index
}

fn key(tree: &Tree, parent: NodeId, text: &str) -> String {
    let legal = notation::parse(text).ok().and_then(|token| {
        match notation::resolve(&token, &tree.line(parent)?) {
            Reading::Legal(mv) => Some(line::uci(&mv)),
            _ => None,
        }
    });
    legal.unwrap_or_else(|| squeezed(text))
}

/// A text that is no legal move, without what is left out now and then.
fn squeezed(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '+' | '#' | 'x'))
        .collect()
}
