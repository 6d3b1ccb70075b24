//! Principal variation search: which move is best, and what it is worth.
//!
//! Alpha-beta: D. Knuth and R. Moore, "An Analysis of Alpha-Beta Pruning", 1975. Minimal windows:
//! T. Marsland and M. Campbell, "Parallel Search of Strongly Ordered Game Trees", 1982. Null move:
//! C. Donninger, "Null Move and Deep Search", ICCA Journal 16(3), 1993. Futility: E. Heinz,
//! "Extended Futility Pruning", ICCA Journal 21(2), 1998. Probing by a shallow search: M. Buro,
//! "ProbCut", ICCA Journal 18(2), 1995. Singular extensions: T. Anantharaman, M. Campbell, F. Hsu,
//! "Singular Extensions", 1990. Late move pruning, internal reductions and the margins are common
//! practice, no source.

mod draw;
mod moves;
mod node;
mod prune;
mod quiesce;
mod root;

use crate::engine::history::{self, Target};
use crate::engine::keys::mix;
use crate::engine::picker::Picker;
use crate::engine::position::Position;
use crate::engine::strength::triangular;
use crate::engine::types::*;
use crate::engine::worker::{FRAME_OFFSET, Worker};
use moves::Extension;
use node::{Best, Tried};

/// What a node is asked: the window, how deep, where.
#[derive(Clone, Copy)]
struct Ask {
    alpha: i32,
    beta: i32,
    depth: i32,
    ply: usize,
    /// A fail-high is expected here.
    cut: bool,
}

impl Ask {
    /// With the least window: whether the score reaches `beta`.
    fn least(beta: i32, depth: i32, ply: usize, cut: bool) -> Ask {
        Ask {
            alpha: beta - 1,
            beta,
            depth,
            ply,
            cut,
        }
    }
}

impl Worker {
    /// Steps into the position after `m`; `keys.pop()` steps back.
    fn enter(&mut self, p: &Position, m: Move, ply: usize, child: &Position) {
        self.frames[ply + FRAME_OFFSET].target = history::target(p.on(m.from()), m);
        self.keys.push(child.key);
    }

    pub fn evaluate(&mut self, p: &Position, ply: usize) -> i32 {
        let value = crate::engine::evaluation::evaluate(p, ply, &mut self.learned);
        let (noise, seed) = self.noise;
        if noise == 0 {
            return value;
        }
        value + triangular(mix(p.key ^ seed), noise)
    }

    fn search<const PV: bool>(&mut self, p: &Position, mut ask: Ask) -> i32 {
        let ply = ask.ply;
        if ask.depth <= 0 {
            return self.quiesce::<PV>(p, ask.alpha, ask.beta, ply, 0);
        }
        if let Some(score) = self.arrive(p, ply) {
            return score;
        }
        // A mate already found nearer the root makes longer ones useless.
        ask.alpha = ask.alpha.max(-MATE + ply as i32);
        ask.beta = ask.beta.min(MATE - ply as i32 - 1);
        if ask.alpha >= ask.beta {
            return ask.alpha;
        }
        let node = match self.assess::<PV>(p, &ask) {
            Ok(node) => node,
            Err(score) => return score,
        };
        let whole = node.excluded.is_none();
        if !PV
            && !node.in_check
            && whole
            && let Some(score) = self.prune_node(p, &ask, &node)
        {
            return score;
        }
        // Without a move from the table the order is a guess: look less deep and come back.
        if ask.depth >= 4 && node.table_move.is_none() && (PV || ask.cut) && whole {
            ask.depth -= 1;
        }
        let start = self.moves.len();
        let before = self.before(ply);
        let counter = self.history.counter(before[0]);
        let killers = self.history.killers(ply);
        let mut picker = Picker::all(p, node.table_move, start, killers, counter);
        let checks = p.checks();
        let has_pieces = p.has_pieces(p.turn);
        let mut best = Best::above(ask.alpha);
        let mut number = 0;
        let (mut quiets, mut noisies) = (Tried::new(), Tried::new());

        while let Some(m) = picker.next(p, &mut self.moves, &self.history, &before) {
            if m == node.excluded || !p.is_legal(m) {
                continue;
            }
            number += 1;
            let mut trial = self.trial(p, m, number, &picker, &checks, ask.depth);
            let may_prune = has_pieces && best.score > -MATE_BOUND;
            if may_prune && trial.is_late(ask.depth, &node, best.alpha) {
                continue;
            }
            trial.past = self.past(p, m, &before);
            if may_prune && trial.is_hopeless(p, ask.depth) {
                continue;
            }
            let extension = match self.extension::<PV>(p, &ask, &node, &trial) {
                Extension::By(plies) => plies,
                Extension::Cut(score) => {
                    self.moves.truncate(start);
                    return score;
                }
            };
            let score = self.try_move::<PV>(p, &ask, &node, &trial, best.alpha, extension);
            if self.stopped {
                self.moves.truncate(start);
                return 0;
            }
            if self.better::<PV>(&mut best, m, score, ply, ask.beta) {
                self.frames[ply + FRAME_OFFSET].cutoffs += 1;
                break;
            }
            if m != best.mv {
                if trial.noisy {
                    noisies.push(m)
                } else {
                    quiets.push(m)
                }
            }
        }
        self.moves.truncate(start);
        if number == 0 {
            return match (whole, node.in_check) {
                (false, _) => best.alpha,
                (true, true) => -MATE + ply as i32,
                (true, false) => 0,
            };
        }
        if best.score >= ask.beta {
            self.learn(p, best.mv, &ask, &before, &quiets, &noisies);
        }
        if whole {
            self.leave(p, &ask, &node, &best);
        }
        best.score
    }

    fn learn(
        &mut self,
        p: &Position,
        m: Move,
        ask: &Ask,
        before: &[Target; 3],
        quiets: &Tried,
        noisies: &Tried,
    ) {
        let amount = bonus(ask.depth);
        // What failed to cut says more than what cut.
        let malus = amount * 13 / 10;
        if m.is_noisy() {
            self.history.reward_capture(p, m, amount);
        } else {
            self.history.note_cutoff(ask.ply, before[0], m);
            self.history.reward_quiet(p, m, before, amount);
            for &other in quiets.all() {
                self.history.reward_quiet(p, other, before, -malus);
            }
        }
        for &other in noisies.all() {
            self.history.reward_capture(p, other, -malus);
        }
    }
}

fn bonus(depth: i32) -> i32 {
    (140 * depth - 60).min(1500)
}
