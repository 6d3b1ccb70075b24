//! Quiescence: captures, promotions and first checks until things are quiet.

use super::node::Best;
use crate::engine::exchange;
use crate::engine::picker::{Picker, Stage};
use crate::engine::position::Position;
use crate::engine::table::{Bound, Found, NO_EVAL};
use crate::engine::types::*;
use crate::engine::worker::Worker;

/// What the value of a piece may be exceeded by when it is taken for nothing.
const MARGIN: i32 = 200;

impl Worker {
    /// Captures and promotions until things are quiet, answers to checks in full.
    pub fn quiesce<const PV: bool>(
        &mut self,
        p: &Position,
        alpha: i32,
        beta: i32,
        ply: usize,
        below: usize,
    ) -> i32 {
        if let Some(score) = self.arrive(p, ply) {
            return score;
        }
        let in_check = p.in_check();
        let found = self.table.probe(p.key, ply);
        if let (false, Some(f)) = (PV, &found)
            && f.bound.holds(f.score >= beta)
        {
            return f.score;
        }
        let mut best = Best::above(alpha);
        let mut raw_eval = NO_EVAL;
        if !in_check {
            (raw_eval, best.score) = self.stand_pat(p, ply, found);
            if best.score >= beta {
                if found.is_none() {
                    self.keep(p, ply, &best, raw_eval, Bound::Lower);
                }
                return best.score;
            }
            best.alpha = alpha.max(best.score);
        }
        let margin = best.score + MARGIN;
        let start = self.moves.len();
        let before = self.before(ply);
        let table_move = found.map_or(Move::NONE, |f| f.mv);
        let mut picker = if in_check {
            Picker::new(p, table_move, start)
        } else if below == 0 {
            Picker::noisy_and_checks(p, table_move, start)
        } else {
            Picker::noisy(p, table_move, start, 0)
        };
        let mut number = 0;
        while let Some(m) = picker.next(p, &mut self.moves, &self.history, &before) {
            if !p.is_legal(m) {
                continue;
            }
            number += 1;
            if in_check {
                if best.score > -MATE_BOUND && picker.stage() >= Stage::Quiet {
                    break;
                }
            } else if let Some(most) = hopeless(p, m, &picker, margin, best.alpha) {
                best.score = best.score.max(most);
                picker.pass_over(best.score - margin);
                continue;
            }
            self.table.touch(p.key_after(m));
            let child = p.after(m);
            self.enter(p, m, ply, &child);
            let score = -self.quiesce::<PV>(&child, -beta, -best.alpha, ply + 1, below + 1);
            self.keys.pop();
            if self.stopped {
                self.moves.truncate(start);
                return 0;
            }
            if self.better::<PV>(&mut best, m, score, ply, beta) {
                break;
            }
        }
        self.moves.truncate(start);
        if in_check && number == 0 {
            return -MATE + ply as i32;
        }
        let bound = if best.score >= beta {
            Bound::Lower
        } else if PV && best.score > alpha {
            Bound::Exact
        } else {
            Bound::Upper
        };
        self.keep(p, ply, &best, raw_eval, bound);
        best.score
    }

    /// The evaluation as it is, and as history and the table better it: what the side to move has
    /// without a capture.
    #[inline(always)]
    fn stand_pat(&mut self, p: &Position, ply: usize, found: Option<Found>) -> (i32, i32) {
        let raw = match found {
            Some(f) if f.eval != NO_EVAL => f.eval,
            _ => self.evaluate(p, ply),
        };
        let eval = raw + self.history.correction(p);
        match found {
            Some(f) if f.bound.holds(f.score > eval) => (raw, f.score),
            _ => (raw, eval),
        }
    }

    #[inline(always)]
    fn keep(&mut self, p: &Position, ply: usize, best: &Best, raw_eval: i32, bound: Bound) {
        self.table.store(
            p.key,
            ply,
            Found {
                mv: best.mv,
                score: best.score,
                eval: raw_eval,
                depth: 0,
                bound,
                was_pv: false,
            },
        );
    }
}

/// A move that cannot help: what it could bring at most. Captures that take too little even if the
/// piece is had for nothing, and checks that lose material.
#[inline(always)]
fn hopeless(p: &Position, m: Move, picker: &Picker, margin: i32, alpha: i32) -> Option<i32> {
    if picker.stage() == Stage::Checks {
        let loses = !picker.uncovers(p, m) && !exchange::wins_at_least(p, m, 0);
        return loses.then_some(-INFINITE);
    }
    let most = margin + exchange::VALUE[kind_of(p.taken(m))];
    (!m.is_promotion() && most <= alpha).then_some(most)
}
