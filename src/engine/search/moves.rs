//! One move of a node: whether it is worth a look, how deep the look goes, and what it finds.

use super::Ask;
use super::node::Node;
use crate::engine::exchange;
use crate::engine::history::Target;
use crate::engine::picker::{Picker, Stage};
use crate::engine::position::{Checks, Position};
use crate::engine::table::Bound;
use crate::engine::types::*;
use crate::engine::worker::{FRAME_OFFSET, Worker};

/// A move about to be tried.
pub(super) struct Trial {
    m: Move,
    /// From 1, legal moves alone.
    number: usize,
    pub noisy: bool,
    check: bool,
    /// Checks with a piece that stood behind the one moved.
    uncovers: bool,
    /// What history says of it, once asked.
    pub past: i32,
    stage: Stage,
    /// In 1024ths of a half-move.
    reduction: i32,
}

/// What becomes of a move's depth.
pub(super) enum Extension {
    By(i32),
    /// The node is given up with this score instead.
    Cut(i32),
}

impl Trial {
    /// Half-moves that are left for it.
    fn left(&self, depth: i32) -> i32 {
        (depth - self.reduction / 1024).max(0)
    }

    /// Whether a quiet move comes too late, or gains too little, to be looked at. Asked before `past` is known.
    #[inline(always)]
    pub fn is_late(&self, depth: i32, node: &Node, alpha: i32) -> bool {
        // One by one: quiet checks that are still to come must not go with the others.
        if self.noisy || self.check {
            return false;
        }
        let left = self.left(depth);
        self.number > late_count(depth, node.improving)
            || (!node.in_check && left <= 7 && node.static_eval + 60 + 95 * left <= alpha)
    }

    /// Whether the move can be left out unseen, once another one saves the side from mate.
    #[inline(always)]
    pub fn is_hopeless(&self, p: &Position, depth: i32) -> bool {
        if self.noisy {
            return self.stage >= Stage::BadNoisy
                && depth <= 7
                && !self.uncovers
                && !exchange::wins_at_least(p, self.m, -95 * depth);
        }
        let left = self.left(depth);
        (left <= 4 && self.past < -3800 * depth)
            || (left <= 8
                && !self.uncovers
                && !exchange::wins_at_least(p, self.m, -24 * left * left))
    }
}

impl Worker {
    #[inline(always)]
    pub(super) fn trial(
        &self,
        p: &Position,
        m: Move,
        number: usize,
        picker: &Picker,
        checks: &Checks,
        depth: i32,
    ) -> Trial {
        let check = p.gives_check(m, checks);
        Trial {
            m,
            number,
            noisy: m.is_noisy(),
            check,
            uncovers: check && p.uncovers(m, checks),
            past: 0,
            stage: picker.stage(),
            reduction: self.reductions.of(depth, number),
        }
    }

    /// What history says of a move.
    #[inline(always)]
    pub(super) fn past(&self, p: &Position, m: Move, before: &[Target; 3]) -> i32 {
        if m.is_noisy() {
            self.history.capture(p, m)
        } else {
            self.history.quiet(p, m, before)
        }
    }

    /// A move that stands alone is searched deeper, one of several that win less deep; checks that
    /// lose nothing are searched deeper too.
    #[inline(always)]
    pub(super) fn extension<const PV: bool>(
        &mut self,
        p: &Position,
        ask: &Ask,
        node: &Node,
        trial: &Trial,
    ) -> Extension {
        let near = (ask.ply as i32) < 2 * self.root_depth;
        if let Some(f) = node.found
            && ask.depth >= 6
            && trial.m == node.table_move
            && node.excluded.is_none()
            && near
            && f.depth >= ask.depth - 3
            && matches!(f.bound, Bound::Lower | Bound::Exact)
            && f.score.abs() < MATE_BOUND
        {
            return self.singular::<PV>(p, ask, trial.m, f.score);
        }
        let sound = || trial.uncovers || exchange::wins_at_least(p, trial.m, 0);
        Extension::By(i32::from(trial.check && near && sound()))
    }

    /// Searches all moves but `m`, which the table gives `score`, less deeply.
    fn singular<const PV: bool>(
        &mut self,
        p: &Position,
        ask: &Ask,
        m: Move,
        score: i32,
    ) -> Extension {
        let here = ask.ply + FRAME_OFFSET;
        let limit = score - 2 * ask.depth;
        self.frames[here].excluded = m;
        let others =
            self.search::<false>(p, Ask::least(limit, (ask.depth - 1) / 2, ask.ply, ask.cut));
        self.frames[here].excluded = Move::NONE;
        self.line_len[ask.ply] = 0;
        if self.stopped {
            Extension::Cut(0)
        } else if others < limit {
            Extension::By(1 + i32::from(!PV && others < limit - 25))
        } else if limit >= ask.beta {
            Extension::Cut(limit)
        } else {
            Extension::By(-i32::from(score >= ask.beta))
        }
    }

    /// How much less deep a late move is looked at first, in 1024ths of a half-move.
    #[inline(always)]
    fn reduction(&self, ask: &Ask, node: &Node, trial: &Trial) -> i32 {
        let mut r = trial.reduction;
        if trial.noisy {
            r = r / 2 - trial.past / 8;
        } else {
            r -= trial.past * 114 / 1024;
            if trial.stage <= Stage::Refutations {
                r -= 1024;
            }
        }
        r += 1024 * i32::from(ask.cut)
            - 624 * i32::from(node.was_pv)
            - 2048 * i32::from(trial.check);
        r += 900 * i32::from(!node.improving);
        r + 700 * i32::from(self.frames[ask.ply + FRAME_OFFSET + 1].cutoffs > 3)
    }

    /// Plays the move and searches what follows, late moves less deeply and with the least window first.
    #[inline(always)]
    pub(super) fn try_move<const PV: bool>(
        &mut self,
        p: &Position,
        ask: &Ask,
        node: &Node,
        trial: &Trial,
        alpha: i32,
        extension: i32,
    ) -> i32 {
        self.table.touch(p.key_after(trial.m));
        let child = p.after(trial.m);
        self.enter(p, trial.m, ask.ply, &child);
        let below = ask.ply + 1;
        let full = ask.depth - 1 + extension;
        let mut score = -INFINITE;
        if ask.depth >= 2 && trial.number > 1 + usize::from(PV) {
            let r = self.reduction(ask, node, trial);
            let reduced = (full - r / 1024).clamp(1.min(full), full.max(1));
            score = -self.search::<false>(&child, Ask::least(-alpha, reduced, below, true));
            if score > alpha && reduced < full {
                score = -self.search::<false>(&child, Ask::least(-alpha, full, below, !ask.cut));
            }
        } else if !PV || trial.number > 1 {
            score = -self.search::<false>(&child, Ask::least(-alpha, full, below, !ask.cut));
        }
        if PV && (trial.number == 1 || score > alpha) {
            let open = Ask {
                alpha: -ask.beta,
                beta: -alpha,
                depth: full,
                ply: below,
                cut: false,
            };
            score = -self.search::<true>(&child, open);
        }
        self.keys.pop();
        score
    }
}

/// After how many moves quiet ones are no longer worth a look.
fn late_count(depth: i32, improving: bool) -> usize {
    let base = 14 + 130 * depth * depth / 100;
    (if improving { base } else { base / 2 }) as usize
}
