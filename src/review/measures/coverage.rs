//! The reference tree: what a sound calculation of the position contains, and how much of it was
//! written.
//!
//! At the root every move within `equal` of the best (three at most) and the choice; at the opponent's
//! turn his best reply and the forcing ones that are nearly as good; at the player's turn the best
//! move; down to the needed depth, ten half-moves at most. Below what was surveyed it follows the
//! line the search expects. A half-move weighs one over its distance from the root: what comes first
//! must be seen first (our own choice, no source).

use std::collections::BTreeMap;

use shakmaty::{Move, Position};

use crate::board::{line, motif};
use crate::review::analysis::position::{AnalysedMove, AnalysedPosition};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::model::measures::{Coverage, Focus};
use crate::review::model::thresholds::{
    REFERENCE_DEPTH_MAX, REFERENCE_REPLIES, REFERENCE_ROOT_MOVES,
};
use crate::tree::NodeId;

/// A path from the root, in UCI notation: the identity of a reference move.
type Path = Vec<String>;

pub(crate) struct Reference {
    /// Each reference move with the node that is it, where it was written.
    moves: BTreeMap<Path, Option<NodeId>>,
    depth: usize,
}

impl Reference {
    pub(crate) fn of(analysis: &TreeAnalysis<'_>, needed: usize) -> Self {
        let mut reference = Self {
            moves: BTreeMap::new(),
            depth: needed.clamp(1, REFERENCE_DEPTH_MAX),
        };
        reference.grow(analysis, NodeId::ROOT, &Vec::new());
        reference
    }

    fn grow(&mut self, analysis: &TreeAnalysis<'_>, id: NodeId, path: &Path) {
        let Some(place) = analysis.place(id).filter(|_| path.len() < self.depth) else {
            return;
        };
        if place.moves.is_empty() {
            self.follow(path, &place.pv);
        }
        for (rank, scored) in belonging(analysis, id, place).into_iter().enumerate() {
            let mut here = path.clone();
            here.push(line::uci(&scored.mv));
            self.moves.insert(here.clone(), scored.node);
            match scored.node {
                Some(node) => self.grow(analysis, node, &here),
                // Behind what is only as good as the best nobody has to follow the whole line.
                None if rank > 0 => {}
                None => self.follow(&here, scored.pv.get(1..).unwrap_or_default()),
            }
        }
    }

    /// Unwritten moves from a path on.
    fn follow(&mut self, path: &Path, moves: &[Move]) {
        let mut here = path.clone();
        for mv in moves.iter().take(self.depth.saturating_sub(path.len())) {
            here.push(line::uci(mv));
            self.moves.insert(here.clone(), None);
        }
    }

    pub(crate) fn coverage(&self) -> Coverage {
        let weight = |path: &Path| 1.0 / path.len().max(1) as f64;
        let all: f64 = self.moves.keys().map(weight).sum();
        let written: Vec<&Path> = self
            .moves
            .iter()
            .filter(|(_, n)| n.is_some())
            .map(|(p, _)| p)
            .collect();
        Coverage {
            share: share(written.iter().map(|p| weight(p)).sum(), all),
            written: written.len(),
            of: self.moves.len(),
        }
    }

    /// The part of the written moves that matters: in the reference, or the trial of a tempting
    /// candidate that fails (the candidate and the reply that refutes it).
    pub(crate) fn focus(&self, analysis: &TreeAnalysis<'_>) -> Focus {
        let all: Vec<NodeId> = analysis
            .places
            .keys()
            .copied()
            .filter(|id| *id != NodeId::ROOT && is_first_spelling(analysis, *id))
            .collect();
        let matter = all.iter().filter(|id| {
            self.moves.values().any(|n| *n == Some(**id)) || belongs_to_trial(analysis, **id)
        });
        let written = matter.count();
        Focus {
            share: share(written as f64, all.len() as f64),
            written,
            of: all.len(),
        }
    }
}

/// Two spellings of one move are one move.
fn is_first_spelling(analysis: &TreeAnalysis<'_>, id: NodeId) -> bool {
    let parent = analysis.tree.parent(id).unwrap_or(NodeId::ROOT);
    let mut standing = analysis.tree.standing(parent);
    standing.find(|c| analysis.tree.legal(*c) == analysis.tree.legal(id)) == Some(id)
}

fn share(part: f64, whole: f64) -> f64 {
    if whole > 0.0 {
        (part / whole * 1000.0).round() / 1000.0
    } else {
        0.0
    }
}

/// The moves at a place that a sound calculation contains.
fn belonging<'s>(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    place: &'s AnalysedPosition,
) -> Vec<&'s AnalysedMove> {
    let Some(best) = place.best() else {
        return Vec::new();
    };
    if id == NodeId::ROOT {
        let good = place.within(best.worth, analysis.settings.equal);
        let mut moves: Vec<&AnalysedMove> = good.take(REFERENCE_ROOT_MOVES).collect();
        moves.extend(analysis.choice.and_then(|c| place.move_at(c)));
        return moves;
    }
    if place.is_players_turn() {
        return vec![best];
    }
    let pos = place.line.position();
    let critical = |m: &&AnalysedMove| m.mv == best.mv || motif::is_forcing(pos, &m.mv);
    let near = place.within(best.worth, analysis.settings.delta.half());
    near.filter(critical).take(REFERENCE_REPLIES).collect()
}

/// True for a tempting candidate that fails, and for the written reply that refutes it.
fn belongs_to_trial(analysis: &TreeAnalysis<'_>, id: NodeId) -> bool {
    let path = analysis.tree.path(id);
    let (Some(candidate), 1..=2) = (path.first(), path.len()) else {
        return false;
    };
    let root = analysis.root();
    let Some(scored) = analysis.scored(*candidate) else {
        return false;
    };
    let fails = root.worth - scored.worth >= analysis.settings.delta;
    let tempting =
        motif::is_forcing(root.line.position(), &scored.mv) || attacks_something(root, &scored.mv);
    let refutes = || {
        let answered = analysis.place(*candidate);
        answered.is_some_and(|p| {
            let mut best = p.within(p.worth, analysis.settings.equal);
            best.any(|m| m.node == Some(id))
        })
    };
    fails && tempting && (path.len() == 1 || refutes())
}

/// True where the moved piece attacks something worth more than itself, or undefended by exchange.
fn attacks_something(place: &AnalysedPosition, mv: &Move) -> bool {
    let mut next = place.line.position().clone();
    next.play_unchecked(mv);
    let Ok(mine) = next.swap_turn() else {
        return false;
    };
    mine.legal_moves().iter().any(|m| {
        m.from() == Some(mv.to())
            && crate::board::exchange::after_move(&mine, m) > 0
            && m.is_capture()
    })
}
