//! One written position with what the judge says of it and of its moves.

use std::collections::BTreeMap;

use shakmaty::Move;

use crate::board::Line;
use crate::judge::Answer;
use crate::review::analysis::judge_client::for_player;
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::NodeId;

/// One move at a place. All expected scores are the player's.
#[derive(Debug, Clone)]
pub(crate) struct AnalysedMove {
    pub mv: Move,
    /// The written node, where it was written.
    pub node: Option<NodeId>,
    /// Its position searched alone.
    pub alone: PlayerScore,
    /// The same with all that was learnt below, where it was written.
    pub worth: PlayerScore,
    /// What the judge expects to follow, this move first.
    pub pv: Vec<Move>,
    /// True where only the search of the position before it, or a small search, has scored it: good enough
    /// to say that it is nothing special, never a ground for a finding.
    pub rough: bool,
}

/// Whether a score suits the side to move better than another, by whether that side is the player.
pub(crate) fn is_better(players: bool) -> impl Fn(PlayerScore, PlayerScore) -> bool {
    move |a, b| if players { a > b } else { a < b }
}

/// By how much `a`, left to the player, suits the side to move better than `b`.
pub(crate) fn prefers(line: &Line, a: PlayerScore, b: PlayerScore) -> ScoreDiff {
    if line.is_players_turn() { a - b } else { b - a }
}

/// One written position.
#[derive(Debug, Clone)]
pub(crate) struct AnalysedPosition {
    pub line: Line,
    /// The moves that the search of the position itself preferred, with what they left the player, in its
    /// order.
    pub liked: Vec<AnalysedMove>,
    /// Moves by what they are worth to the side that plays them, the best first.
    pub moves: Vec<AnalysedMove>,
    /// The position searched alone.
    pub alone: PlayerScore,
    pub pv: Vec<Move>,
    /// Backed up from the moves, where they were compared.
    pub worth: PlayerScore,
    /// Moves to mate as the position's own search tells it, for the side to move: positive where it mates.
    pub mate: Option<i32>,
    /// Where the best reply was written: how much better the player stands after the next best one.
    pub margin: Option<ScoreDiff>,
}

impl AnalysedPosition {
    /// A position before its moves are compared. A proposed move is kept only where it is not already `near`
    /// worse than the best.
    pub(crate) fn new(line: Line, answer: &Answer, near: ScoreDiff) -> Self {
        let alone = for_player(&line, answer);
        let worth_it = answer
            .moves
            .iter()
            .filter(|m| answer.expected.over(m.expected) <= near);
        let liked = worth_it.map(|m| {
            let worth = m.expected.for_player(line.turn(), line.player());
            AnalysedMove {
                mv: m.mv.clone(),
                node: None,
                alone: worth,
                worth,
                pv: m.pv.clone(),
                rough: true,
            }
        });
        let first = answer.moves.first();
        Self {
            liked: liked.collect(),
            moves: Vec::new(),
            pv: first.map(|m| m.pv.clone()).unwrap_or_default(),
            worth: alone,
            alone,
            mate: first.and_then(|m| m.mate),
            line,
            margin: None,
        }
    }

    pub(crate) fn is_players_turn(&self) -> bool {
        self.line.is_players_turn()
    }

    /// Positive where `a` suits the side to move better than `b`, by that much.
    pub(crate) fn prefers(&self, a: PlayerScore, b: PlayerScore) -> ScoreDiff {
        prefers(&self.line, a, b)
    }

    /// The one that suits the side to move best, the first among equals.
    pub(crate) fn best_for_mover(
        &self,
        scores: impl Iterator<Item = PlayerScore>,
    ) -> Option<PlayerScore> {
        let better = is_better(self.is_players_turn());
        scores.reduce(|a, b| if better(b, a) { b } else { a })
    }

    pub(crate) fn written(&self) -> impl Iterator<Item = &AnalysedMove> {
        self.moves.iter().filter(|m| m.node.is_some())
    }

    pub(crate) fn unwritten(&self) -> impl Iterator<Item = &AnalysedMove> {
        self.moves.iter().filter(|m| m.node.is_none() && !m.rough)
    }

    pub(crate) fn best(&self) -> Option<&AnalysedMove> {
        self.moves.first()
    }

    pub(crate) fn move_at(&self, node: NodeId) -> Option<&AnalysedMove> {
        self.moves.iter().find(|m| m.node == Some(node))
    }

    /// What is expected from here: by the best move that was compared, else by the position's own search.
    pub(crate) fn expected(&self) -> &[Move] {
        self.best().map_or(&self.pv, |m| &m.pv)
    }

    /// The moves that are no more than `slack` worse than `worth` for the side to move.
    pub(crate) fn within(
        &self,
        worth: PlayerScore,
        slack: ScoreDiff,
    ) -> impl Iterator<Item = &AnalysedMove> {
        let near = move |m: &&AnalysedMove| self.prefers(worth, m.worth) <= slack;
        self.moves.iter().filter(near)
    }

    /// The best that any move searched alone leaves the player.
    pub(crate) fn best_of_all(&self) -> Option<PlayerScore> {
        self.best_for_mover(self.moves.iter().filter(|m| !m.rough).map(|m| m.alone))
    }

    /// The unwritten moves that the search of the position liked: those worth a search of their own, and
    /// the others. A move that its search does not show to be better than all that was written cannot
    /// become a finding, nor can one at the end of a line.
    pub(crate) fn proposed(&self, near: ScoreDiff) -> (Vec<AnalysedMove>, Vec<AnalysedMove>) {
        let liked = self
            .liked
            .iter()
            .filter(|l| self.moves.iter().all(|m| m.mv != l.mv));
        let mut liked = liked.cloned();
        let Some(best) = self.best_of_all() else {
            // The end of a line: its search is the search of its best move, and nothing is compared with it.
            let first = liked.next().map(|l| AnalysedMove { rough: false, ..l });
            return (Vec::new(), first.into_iter().chain(liked).collect());
        };
        liked.partition(|l| self.prefers(l.alone, best) >= near)
    }

    /// Puts in what is known from `below` the written moves, and takes the best of all moves.
    pub(crate) fn settle(&mut self, below: &BTreeMap<NodeId, PlayerScore>) {
        for scored in &mut self.moves {
            if let Some(worth) = scored.node.and_then(|n| below.get(&n)) {
                scored.worth = *worth;
            }
        }
        let players = self.is_players_turn();
        self.limit_rough();
        self.moves.sort_by(|a, b| {
            let order = a.worth.total_cmp(&b.worth);
            let order = if players { order.reverse() } else { order };
            order.then(a.rough.cmp(&b.rough))
        });
        if let Some(best) = self.moves.first() {
            self.worth = best.worth;
        }
    }

    /// What was only looked at roughly is no better than the best of what was searched.
    fn limit_rough(&mut self) {
        let players = self.is_players_turn();
        let better = |a: PlayerScore, b: PlayerScore| if players { a.max(b) } else { a.min(b) };
        let searched = self.moves.iter().filter(|m| !m.rough).map(|m| m.worth);
        let Some(best) = searched.reduce(better) else {
            return;
        };
        for rough in self.moves.iter_mut().filter(|m| m.rough) {
            rough.worth = if players {
                rough.alone.min(best)
            } else {
                rough.alone.max(best)
            };
        }
    }

    /// Puts in what a glance saw, by its difference from the first move of the same glance: scores of two
    /// searches are not compared. What is delta worse is left out.
    pub(crate) fn glanced(&mut self, answer: &Answer, delta: ScoreDiff) {
        let Some(first) = answer.moves.first() else {
            return;
        };
        let is_best = self.best().is_some_and(|b| b.mv == first.mv);
        let known = self.moves.iter().find(|m| m.mv == first.mv);
        let base = known.map_or(self.worth, |m| m.worth);
        if let (true, Some(second)) = (is_best, answer.moves.get(1)) {
            self.margin = Some(first.expected.over(second.expected));
        }
        for seen in &answer.moves {
            let less = first.expected.over(seen.expected);
            if less > delta || self.moves.iter().any(|m| m.mv == seen.mv) {
                continue;
            }
            let worth = if self.is_players_turn() {
                base - less
            } else {
                base + less
            };
            self.moves.push(AnalysedMove {
                mv: seen.mv.clone(),
                node: None,
                alone: worth,
                worth,
                pv: seen.pv.clone(),
                rough: true,
            });
        }
    }
}
