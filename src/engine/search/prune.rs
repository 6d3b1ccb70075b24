//! Ways to give a whole node up before its moves are tried.

use super::Ask;
use super::node::Node;
use crate::engine::history::NO_TARGET;
use crate::engine::picker::Picker;
use crate::engine::position::Position;
use crate::engine::table::{Bound, Found};
use crate::engine::types::*;
use crate::engine::worker::{FRAME_OFFSET, Worker};

impl Worker {
    /// Ways to give a whole node up: too bad, too good, or good even after passing.
    pub(super) fn prune_node(&mut self, p: &Position, ask: &Ask, node: &Node) -> Option<i32> {
        let Ask {
            alpha,
            beta,
            depth,
            ply,
            cut,
        } = *ask;
        let Node {
            eval,
            static_eval,
            improving,
            table_move,
            ..
        } = *node;
        if depth <= 3 && eval + 180 + 220 * depth * depth < alpha {
            let score = self.quiesce::<false>(p, alpha, alpha + 1, ply, 0);
            if score <= alpha || self.stopped {
                return Some(score);
            }
        }
        if depth <= 8
            && eval - 75 * (depth - i32::from(improving)) >= beta
            && eval < KNOWN_WIN
            && beta > -MATE_BOUND
        {
            return Some((eval + beta) / 2);
        }
        if depth >= 3
            && eval >= beta
            && static_eval >= beta - 18 * depth + 110
            && p.has_pieces(p.turn)
            && ply >= self.null_from
            && beta > -MATE_BOUND
            && self.frames[ply + FRAME_OFFSET - 1].target != NO_TARGET
        {
            let r = (3840 + 342 * depth + 1024 * (eval - beta).min(570) / 190) / 1024;
            let child = p.after_null();
            self.frames[ply + FRAME_OFFSET].target = NO_TARGET;
            self.keys.push(child.key);
            let score =
                -self.search::<false>(&child, Ask::least(1 - beta, depth - r, ply + 1, !cut));
            self.keys.pop();
            if self.stopped {
                return Some(0);
            }
            if score >= beta {
                let score = if score >= MATE_BOUND { beta } else { score };
                if depth < 12 || self.null_from > 0 {
                    return Some(score);
                }
                // Deep down passing may hide zugzwang: check by a shallower search without it.
                self.null_from = ply + (3 * (depth - r) / 4).max(1) as usize;
                let verified = self.search::<false>(p, Ask::least(beta, depth - r, ply, false));
                self.null_from = 0;
                if verified >= beta {
                    return Some(score);
                }
            }
        }
        let high = beta + 190 - 50 * i32::from(improving);
        if depth >= 5 && beta.abs() < MATE_BOUND {
            return self.probe_captures(p, ask, high, static_eval, table_move);
        }
        None
    }

    /// A capture that beats the window by far in a shallow search very likely does in a deep one.
    fn probe_captures(
        &mut self,
        p: &Position,
        ask: &Ask,
        high: i32,
        static_eval: i32,
        table_move: Move,
    ) -> Option<i32> {
        let Ask {
            depth, ply, cut, ..
        } = *ask;
        let start = self.moves.len();
        let before = [NO_TARGET; 3];
        let mut picker = Picker::noisy(p, table_move, start, (high - static_eval).max(1));
        let mut answer = None;
        while let Some(m) = picker.next(p, &mut self.moves, &self.history, &before) {
            if !p.is_legal(m) {
                continue;
            }
            self.table.touch(p.key_after(m));
            let child = p.after(m);
            self.enter(p, m, ply, &child);
            let mut score = -self.quiesce::<false>(&child, -high, -high + 1, ply + 1, 0);
            if score >= high {
                score =
                    -self.search::<false>(&child, Ask::least(1 - high, depth - 4, ply + 1, !cut));
            }
            self.keys.pop();
            if self.stopped {
                answer = Some(0);
                break;
            }
            if score >= high {
                self.table.store(
                    p.key,
                    ply,
                    Found {
                        mv: m,
                        score,
                        eval: self.frames[ply + FRAME_OFFSET].raw,
                        depth: depth - 3,
                        bound: Bound::Lower,
                        was_pv: false,
                    },
                );
                answer = Some(score);
                break;
            }
        }
        self.moves.truncate(start);
        answer
    }
}
