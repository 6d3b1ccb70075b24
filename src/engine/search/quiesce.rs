//! Quiescence: captures, promotions and first checks until things are quiet.

use crate::engine::exchange;
use crate::engine::picker::{Picker, Stage};
use crate::engine::position::Position;
use crate::engine::table::{Bound, Found, NO_EVAL};
use crate::engine::types::*;
use crate::engine::worker::Worker;

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
        self.line_len[ply] = 0;
        self.count_node();
        if self.stopped {
            return 0;
        }
        self.seldepth = self.seldepth.max(ply);
        if self.is_draw(p, ply) {
            return 0;
        }
        let in_check = p.in_check();
        if ply >= MAX_PLY - 1 {
            return if in_check { 0 } else { self.evaluate(p) };
        }
        let found = self.table.probe(p.key, ply);
        if let (false, Some(f)) = (PV, &found)
            && f.bound.holds(f.score >= beta)
        {
            return f.score;
        }
        let (mut alpha, old_alpha) = (alpha, alpha);
        let (mut best, mut raw_eval) = (-INFINITE, NO_EVAL);
        if !in_check {
            raw_eval = match found {
                Some(f) if f.eval != NO_EVAL => f.eval,
                _ => self.evaluate(p),
            };
            best = raw_eval + self.history.correction(p);
            if let Some(f) = found
                && f.bound.holds(f.score > best)
            {
                best = f.score;
            }
            if best >= beta {
                if found.is_none() {
                    self.table.store(
                        p.key,
                        ply,
                        Found {
                            mv: Move::NONE,
                            score: best,
                            eval: raw_eval,
                            depth: 0,
                            bound: Bound::Lower,
                            was_pv: false,
                        },
                    );
                }
                return best;
            }
            alpha = alpha.max(best);
        }
        let margin = best + 200;
        let checks = p.checks();
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
        let mut best_move = Move::NONE;
        let mut number = 0;
        while let Some(m) = picker.next(p, &mut self.moves, &self.history, &before) {
            if !p.is_legal(m) {
                continue;
            }
            number += 1;
            if in_check {
                if best > -MATE_BOUND && picker.stage() >= Stage::Quiet {
                    break;
                }
            } else if picker.stage() == Stage::Checks {
                if !p.uncovers(m, &checks) && !exchange::wins_at_least(p, m, 0) {
                    continue;
                }
            } else if !m.is_promotion() && margin + exchange::VALUE[kind_of(p.taken(m))] <= alpha {
                // Even the piece for nothing would not be enough.
                best = best.max(margin + exchange::VALUE[kind_of(p.taken(m))]);
                continue;
            }
            self.table.touch(p.key_after(m));
            let child = p.after(m);
            self.enter(p, m, ply, &child);
            let score = -self.quiesce::<PV>(&child, -beta, -alpha, ply + 1, below + 1);
            self.keys.pop();
            if self.stopped {
                self.moves.truncate(start);
                return 0;
            }
            if score > best {
                best = score;
                if score > alpha {
                    best_move = m;
                    if PV {
                        self.extend_line(ply, m);
                    }
                    if score >= beta {
                        break;
                    }
                    alpha = score;
                }
            }
        }
        self.moves.truncate(start);
        if in_check && number == 0 {
            return -MATE + ply as i32;
        }
        let bound = if best >= beta {
            Bound::Lower
        } else if PV && best > old_alpha {
            Bound::Exact
        } else {
            Bound::Upper
        };
        self.table.store(
            p.key,
            ply,
            Found {
                mv: best_move,
                score: best,
                eval: raw_eval,
                depth: 0,
                bound,
                was_pv: false,
            },
        );
        best
    }
}
