//! The first move of every line: scores and lines of the root moves.

use super::Ask;
use crate::engine::position::Position;
use crate::engine::table::NO_EVAL;
use crate::engine::types::*;
use crate::engine::worker::{Bound, FRAME_OFFSET, Worker};

impl Worker {
    /// Searches the root moves from `first` on; scores and lines are left in `root`.
    pub fn search_root(
        &mut self,
        p: &Position,
        alpha: i32,
        beta: i32,
        depth: i32,
        first: usize,
    ) -> i32 {
        let window = (alpha, beta);
        let (mut alpha, mut best) = (alpha, -INFINITE);
        self.nodes += 1;
        self.learned.reach(p, 0);
        self.frames[FRAME_OFFSET].eval = if p.in_check() {
            NO_EVAL
        } else {
            self.evaluate(p, 0)
        };
        self.frames[FRAME_OFFSET + 1].cutoffs = 0;
        for i in first..self.root.len() {
            let m = self.root[i].mv;
            let before = self.nodes;
            self.table.touch(p.key_after(m));
            let child = p.after(m);
            self.enter(p, m, 0, &child);
            let number = i - first + 1;
            let mut score = -INFINITE;
            if number > 1 {
                let mut less = 0;
                if depth >= 3 && number > 3 && !m.is_noisy() && !child.in_check() {
                    less = (self.reductions.of(depth, number) / 1024 - 1).clamp(0, depth - 2);
                }
                score =
                    -self.search::<false>(&child, Ask::least(-alpha, depth - 1 - less, 1, true));
                if score > alpha && less > 0 {
                    score = -self.search::<false>(&child, Ask::least(-alpha, depth - 1, 1, true));
                }
            }
            if number == 1 || (score > alpha && !self.stopped) {
                score = -self.search::<true>(
                    &child,
                    Ask {
                        alpha: -beta,
                        beta: -alpha,
                        depth: depth - 1,
                        ply: 1,
                        cut: false,
                    },
                );
            }
            self.keys.pop();
            if self.stopped {
                return best;
            }
            self.root[i].nodes += self.nodes - before;
            best = best.max(score);
            if number == 1 || score > alpha {
                let bound = match score {
                    s if s <= window.0 => Some(Bound::Upper),
                    s if s >= window.1 => Some(Bound::Lower),
                    _ => None,
                };
                self.note_root(i, score, m);
                self.root[i].bound = bound;
                alpha = alpha.max(score);
                if alpha >= beta {
                    break;
                }
            }
        }
        best
    }

    fn note_root(&mut self, i: usize, score: i32, m: Move) {
        self.extend_line(0, m);
        let (depth, seldepth) = (self.root_depth, self.seldepth);
        let root = &mut self.root[i];
        root.score = score;
        root.depth = depth;
        root.seldepth = seldepth;
        root.line.clear();
        root.line
            .extend_from_slice(&self.lines[0][..self.line_len[0]]);
    }
}
