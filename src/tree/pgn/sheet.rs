//! A tree or a game, made ready to be written: every move with its text, the main line first.

use shakmaty::{Chess, Position};

use super::Game;
use crate::board::{Line, line::san};
use crate::notation::{self, Reading};
use crate::tree::{NodeId, Tree, Verdict};

/// One move to be written.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    /// SAN where the move is legal, else the text without blanks.
    pub text: String,
    pub legal: bool,
    pub verdict: Option<Verdict>,
    pub nags: Vec<u8>,
    pub comment: String,
    pub clock_ms: Option<u64>,
    pub elapsed_ms: Option<u64>,
    pub children: Vec<usize>,
}

/// All moves to be written.
#[derive(Debug, Clone, Default)]
pub(super) struct Sheet {
    pub entries: Vec<Entry>,
    pub first: Vec<usize>,
}

impl Sheet {
    /// The standing moves of a tree, the choice first.
    pub(super) fn of_tree(tree: &Tree, choice: Option<NodeId>) -> Self {
        let mut sheet = Self::default();
        // Place in the sheet of every node; parents come before their children.
        let mut place = vec![None; tree.len() + 1];
        let mut todo = vec![NodeId::ROOT];
        while let Some(at) = todo.pop() {
            let mut children: Vec<NodeId> = tree.standing(at).collect();
            children.sort_by_key(|c| Some(*c) != choice);
            for child in &children {
                let Some(entry) = entry(tree, *child) else {
                    continue;
                };
                let parent = place.get(at.0 as usize).copied().flatten();
                let i = sheet.push(entry, parent);
                if let Some(p) = place.get_mut(child.0 as usize) {
                    *p = Some(i);
                }
            }
            todo.extend(children);
        }
        sheet
    }

    /// All moves of a game, the main line first.
    pub(super) fn of_game(game: &Game) -> Self {
        let mut sheet = Self::default();
        let children = game.children();
        let mut todo = vec![(None, None, Some(game.start.clone()))];
        while let Some((at, place, pos)) = todo.pop() {
            let mut answers = children.of(at).to_vec();
            // `main` rises, so it can be searched.
            answers.sort_by_key(|c| game.main.binary_search(c).is_err());
            for answer in answers {
                let Some(mv) = game.moves.get(answer) else {
                    continue;
                };
                let (text, after) = placed(&mv.text, pos.as_ref());
                let entry = Entry {
                    text,
                    legal: after.is_some(),
                    verdict: mv.verdict,
                    nags: mv.nags.clone(),
                    comment: mv.comment.clone(),
                    clock_ms: mv.clock_ms,
                    elapsed_ms: mv.elapsed_ms,
                    children: Vec::new(),
                };
                let i = sheet.push(entry, place);
                todo.push((Some(answer), Some(i), after));
            }
        }
        sheet
    }

    fn push(&mut self, entry: Entry, parent: Option<usize>) -> usize {
        let i = self.entries.len();
        self.entries.push(entry);
        match parent.and_then(|p| self.entries.get_mut(p)) {
            Some(parent) => parent.children.push(i),
            None => self.first.push(i),
        }
        i
    }

    pub(super) fn children(&self, of: Option<usize>) -> &[usize] {
        match of {
            None => &self.first,
            Some(i) => self.entries.get(i).map_or(&[], |e| e.children.as_slice()),
        }
    }
}

fn entry(tree: &Tree, id: NodeId) -> Option<Entry> {
    let node = tree.node(id)?;
    let legal = matches!(node.reading, Reading::Legal(_));
    Some(Entry {
        text: if legal {
            tree.san(id)
        } else {
            joined(&node.text)
        },
        legal,
        verdict: node.verdict,
        nags: Vec::new(),
        comment: node.comment.clone(),
        clock_ms: None,
        elapsed_ms: None,
        children: Vec::new(),
    })
}

/// A text as one word, without the move number that a player may have typed before it.
fn joined(text: &str) -> String {
    let text: String = text.split_whitespace().collect();
    let behind = text.trim_start_matches(|c: char| c.is_ascii_digit());
    if behind.starts_with(['.', '…']) {
        return behind.trim_start_matches(['.', '…']).to_owned();
    }
    text
}

/// A text in its position: SAN and the position after it, or the text alone.
fn placed(text: &str, pos: Option<&Chess>) -> (String, Option<Chess>) {
    let legal = pos.and_then(|pos| {
        let token = notation::parse(text).ok()?;
        match notation::resolve(&token, &Line::new(pos.clone())) {
            Reading::Legal(mv) => Some((pos, mv)),
            _ => None,
        }
    });
    match legal {
        Some((pos, mv)) => {
            let mut after = pos.clone();
            after.play_unchecked(&mv);
            (san(pos, &mv), Some(after))
        }
        None => (joined(text), None),
    }
}
