//! What is known of a node before its moves are tried, and what is left of it afterwards.

use super::{Ask, bonus};
use crate::engine::position::Position;
use crate::engine::table::{Bound, Found, NO_EVAL};
use crate::engine::types::*;
use crate::engine::worker::{FRAME_OFFSET, Worker};

/// Quiet moves and captures tried before the one that cut, for their malus.
pub(super) struct Tried {
    moves: [Move; 48],
    count: usize,
}

impl Tried {
    pub fn new() -> Tried {
        Tried {
            moves: [Move::NONE; 48],
            count: 0,
        }
    }

    pub fn push(&mut self, m: Move) {
        if let Some(slot) = self.moves.get_mut(self.count) {
            *slot = m;
            self.count += 1;
        }
    }

    pub fn all(&self) -> &[Move] {
        &self.moves[..self.count]
    }
}

/// The best of the moves tried so far.
pub(super) struct Best {
    pub score: i32,
    /// [`Move::NONE`] while nothing has raised `alpha`.
    pub mv: Move,
    /// What the next move has to beat.
    pub alpha: i32,
}

impl Best {
    pub fn above(alpha: i32) -> Best {
        Best {
            score: -INFINITE,
            mv: Move::NONE,
            alpha,
        }
    }
}

/// A node before its moves are tried.
pub(super) struct Node {
    pub found: Option<Found>,
    pub table_move: Move,
    /// On the principal variation now, or when the table learnt of the position.
    pub was_pv: bool,
    pub in_check: bool,
    /// The move left out while its singularity is asked about.
    pub excluded: Move,
    /// The evaluation as it is, as history corrects it, and as the table betters it; [`NO_EVAL`] in
    /// check.
    pub raw_eval: i32,
    pub static_eval: i32,
    pub eval: i32,
    /// Better than at this side's last turn.
    pub improving: bool,
}

impl Worker {
    /// Counts a node. A score if nothing is searched here: stopped, drawn, or too far from the root.
    #[inline(always)]
    pub(super) fn arrive(&mut self, p: &Position, ply: usize) -> Option<i32> {
        self.line_len[ply] = 0;
        self.count_node();
        if self.stopped {
            return Some(0);
        }
        self.seldepth = self.seldepth.max(ply);
        self.learned.reach(p, ply);
        if self.is_draw(p, ply) {
            return Some(0);
        }
        (ply >= MAX_PLY - 1).then(|| {
            if p.in_check() {
                0
            } else {
                self.evaluate(p, ply)
            }
        })
    }

    /// Looks the position up and evaluates it; a score if the table settles the question.
    ///
    /// # Errors
    /// That score.
    #[inline(always)]
    pub(super) fn assess<const PV: bool>(&mut self, p: &Position, ask: &Ask) -> Result<Node, i32> {
        let ply = ask.ply;
        let here = ply + FRAME_OFFSET;
        let excluded = self.frames[here].excluded;
        let found = if excluded.is_none() {
            self.table.probe(p.key, ply)
        } else {
            None
        };
        if let (false, Some(f)) = (PV, &found)
            && f.depth >= ask.depth
            && p.quiet_plies < 90
            && f.bound.holds(f.score >= ask.beta)
        {
            let quiet = !f.mv.is_none() && !f.mv.is_noisy();
            if f.score >= ask.beta && quiet && p.is_pseudo_legal(f.mv) {
                let before = self.before(ply);
                self.history
                    .reward_quiet(p, f.mv, &before, bonus(ask.depth));
            }
            return Err(f.score);
        }
        let mut node = Node {
            found,
            table_move: found.map_or(Move::NONE, |f| f.mv),
            was_pv: PV || found.is_some_and(|f| f.was_pv),
            in_check: p.in_check(),
            excluded,
            raw_eval: NO_EVAL,
            static_eval: NO_EVAL,
            eval: NO_EVAL,
            improving: false,
        };
        self.evaluate_node(p, ply, &mut node);
        self.frames[here].eval = node.static_eval;
        self.frames[here].raw = node.raw_eval;
        self.frames[here + 1].excluded = Move::NONE;
        self.frames[here + 2].cutoffs = 0;
        self.history.clear_killers(ply + 2);
        let earlier = self.frames[here - 2].eval;
        node.improving =
            !node.in_check && ply >= 2 && (earlier == NO_EVAL || node.static_eval > earlier);
        Ok(node)
    }

    #[inline(always)]
    fn evaluate_node(&mut self, p: &Position, ply: usize, node: &mut Node) {
        if node.in_check {
            return;
        }
        if !node.excluded.is_none() {
            node.static_eval = self.frames[ply + FRAME_OFFSET].eval;
            node.eval = node.static_eval;
            return;
        }
        node.raw_eval = match node.found {
            Some(f) if f.eval != NO_EVAL => f.eval,
            _ => self.evaluate(p, ply),
        };
        node.static_eval = node.raw_eval + self.history.correction(p);
        node.eval = node.static_eval;
        match node.found {
            Some(f) if f.bound.holds(f.score > node.eval) => node.eval = f.score,
            None => self.table.store(
                p.key,
                ply,
                Found {
                    mv: Move::NONE,
                    score: 0,
                    eval: node.raw_eval,
                    depth: -1,
                    bound: Bound::None,
                    was_pv: node.was_pv,
                },
            ),
            _ => {}
        }
    }

    /// Takes a score into account; whether it ends the node.
    #[inline(always)]
    pub(super) fn better<const PV: bool>(
        &mut self,
        best: &mut Best,
        m: Move,
        score: i32,
        ply: usize,
        beta: i32,
    ) -> bool {
        if score <= best.score {
            return false;
        }
        best.score = score;
        if score <= best.alpha {
            return false;
        }
        best.mv = m;
        if PV {
            self.extend_line(ply, m);
        }
        if score >= beta {
            return true;
        }
        best.alpha = score;
        false
    }

    /// Keeps what was found out: in the table, and how far the evaluation was off.
    #[inline(always)]
    pub(super) fn leave(&mut self, p: &Position, ask: &Ask, node: &Node, best: &Best) {
        let unsound = best.mv.is_noisy()
            || best.score.abs() >= MATE_BOUND
            || (best.score >= ask.beta && best.score <= node.static_eval)
            || (best.mv.is_none() && best.score >= node.static_eval);
        if !node.in_check && !unsound {
            self.history
                .correct(p, ask.depth, best.score - node.raw_eval);
        }
        let bound = if best.score >= ask.beta {
            Bound::Lower
        } else if best.score > ask.alpha {
            Bound::Exact
        } else {
            Bound::Upper
        };
        self.table.store(
            p.key,
            ask.ply,
            Found {
                mv: best.mv,
                score: best.score,
                eval: node.raw_eval,
                depth: ask.depth,
                bound,
                was_pv: node.was_pv,
            },
        );
    }
}
