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
mod prune;
mod quiesce;
mod root;

use crate::engine::exchange;
use crate::engine::history::{self, Target};
use crate::engine::keys::mix;
use crate::engine::picker::{Picker, Stage};
use crate::engine::position::Position;
use crate::engine::strength::triangular;
use crate::engine::table::{Bound, Found, NO_EVAL};
use crate::engine::types::*;
use crate::engine::worker::{FRAME_OFFSET, Worker};

/// Quiet moves and captures tried before the one that cut, for their malus.
struct Tried {
    moves: [Move; 48],
    count: usize,
}

impl Tried {
    fn new() -> Tried {
        Tried {
            moves: [Move::NONE; 48],
            count: 0,
        }
    }

    fn push(&mut self, m: Move) {
        if let Some(slot) = self.moves.get_mut(self.count) {
            *slot = m;
            self.count += 1;
        }
    }

    fn all(&self) -> &[Move] {
        &self.moves[..self.count]
    }
}

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

fn bonus(depth: i32) -> i32 {
    (140 * depth - 60).min(1500)
}

impl Worker {
    /// Steps into the position after `m`; `keys.pop()` steps back.
    fn enter(&mut self, p: &Position, m: Move, ply: usize, child: &Position) {
        self.frames[ply + FRAME_OFFSET].target = Some(history::target(p.on(m.from()), m));
        self.keys.push(child.key);
    }

    pub fn evaluate(&mut self, p: &Position) -> i32 {
        let value = crate::engine::evaluation::evaluate(p, &mut self.pawns);
        let (noise, seed) = self.noise;
        if noise == 0 {
            return value;
        }
        value + triangular(mix(p.key ^ seed), noise)
    }

    fn search<const PV: bool>(&mut self, p: &Position, ask: Ask) -> i32 {
        let Ask {
            mut alpha,
            mut beta,
            mut depth,
            ply,
            cut,
        } = ask;
        if depth <= 0 {
            return self.quiesce::<PV>(p, alpha, beta, ply, 0);
        }
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
        // A mate already found nearer the root makes longer ones useless.
        alpha = alpha.max(-MATE + ply as i32);
        beta = beta.min(MATE - ply as i32 - 1);
        if alpha >= beta {
            return alpha;
        }
        let here = ply + FRAME_OFFSET;
        let excluded = self.frames[here].excluded;
        let found = if excluded.is_none() {
            self.table.probe(p.key, ply)
        } else {
            None
        };
        if let (false, Some(f)) = (PV, &found)
            && f.depth >= depth
            && p.quiet_plies < 90
            && f.bound.holds(f.score >= beta)
        {
            if f.score >= beta && !f.mv.is_none() && !f.mv.is_noisy() && p.is_pseudo_legal(f.mv) {
                let before = self.before(ply);
                self.history.reward_quiet(p, f.mv, &before, bonus(depth));
            }
            return f.score;
        }
        let table_move = found.map_or(Move::NONE, |f| f.mv);
        let was_pv = PV || found.is_some_and(|f| f.was_pv);

        let mut raw_eval = NO_EVAL;
        let (static_eval, mut eval);
        if in_check {
            (static_eval, eval) = (NO_EVAL, NO_EVAL);
        } else if !excluded.is_none() {
            static_eval = self.frames[here].eval;
            eval = static_eval;
        } else {
            raw_eval = match found {
                Some(f) if f.eval != NO_EVAL => f.eval,
                _ => self.evaluate(p),
            };
            static_eval = raw_eval + self.history.correction(p);
            eval = static_eval;
            match found {
                Some(f) if f.bound.holds(f.score > eval) => {
                    eval = f.score;
                }
                None => self.table.store(
                    p.key,
                    ply,
                    Found {
                        mv: Move::NONE,
                        score: 0,
                        eval: raw_eval,
                        depth: -1,
                        bound: Bound::None,
                        was_pv,
                    },
                ),
                _ => {}
            }
        }
        self.frames[here].eval = static_eval;
        self.frames[here].raw = raw_eval;
        self.frames[here + 1].excluded = Move::NONE;
        self.frames[here + 2].cutoffs = 0;
        self.history.clear_killers(ply + 2);
        let improving = !in_check && {
            let earlier = self.frames[here - 2].eval;
            ply >= 2 && (earlier == NO_EVAL || static_eval > earlier)
        };

        if !PV
            && !in_check
            && excluded.is_none()
            && let Some(score) = self.prune_node(
                p,
                &ask,
                alpha,
                beta,
                eval,
                static_eval,
                improving,
                table_move,
            )
        {
            return score;
        }
        // Without a move from the table the order is a guess: look less deep and come back.
        if depth >= 4 && table_move.is_none() && (PV || cut) && excluded.is_none() {
            depth -= 1;
        }

        let start = self.moves.len();
        let before = self.before(ply);
        let counter = self.history.counter(before[0]);
        let mut picker = Picker::all(p, table_move, start, self.history.killers(ply), counter);
        let checks = p.checks();
        let (mut best, mut best_move, mut number) = (-INFINITE, Move::NONE, 0);
        let old_alpha = alpha;
        let (mut quiets, mut noisies) = (Tried::new(), Tried::new());

        while let Some(m) = picker.next(p, &mut self.moves, &self.history, &before) {
            if m == excluded || !p.is_legal(m) {
                continue;
            }
            number += 1;
            let noisy = m.is_noisy();
            let check = p.gives_check(m, &checks);
            let uncovers = check && p.uncovers(m, &checks);
            let past = if noisy {
                self.history.capture(p, m)
            } else {
                self.history.quiet(p, m, &before)
            };
            let reduction = self.reductions.of(depth, number);

            if best > -MATE_BOUND && p.has_pieces(p.turn) {
                let left = (depth - reduction / 1024).max(0);
                if !noisy {
                    // One by one: quiet checks that are still to come must not go with the others.
                    if !check && number > late_count(depth, improving) {
                        continue;
                    }
                    if !in_check && !check && left <= 7 && static_eval + 60 + 95 * left <= alpha {
                        continue;
                    }
                    if left <= 4 && past < -3800 * depth {
                        continue;
                    }
                    if left <= 8 && !uncovers && !exchange::wins_at_least(p, m, -24 * left * left) {
                        continue;
                    }
                } else if picker.stage() >= Stage::BadNoisy
                    && depth <= 7
                    && !uncovers
                    && !exchange::wins_at_least(p, m, -95 * depth)
                {
                    continue;
                }
            }

            let mut extension = 0;
            if depth >= 6
                && m == table_move
                && excluded.is_none()
                && (ply as i32) < 2 * self.root_depth
                && let Some(f) = found
                && f.depth >= depth - 3
                && matches!(f.bound, Bound::Lower | Bound::Exact)
                && f.score.abs() < MATE_BOUND
            {
                let limit = f.score - 2 * depth;
                self.frames[here].excluded = m;
                let score = self.search::<false>(p, Ask::least(limit, (depth - 1) / 2, ply, cut));
                self.frames[here].excluded = Move::NONE;
                self.line_len[ply] = 0;
                if self.stopped {
                    self.moves.truncate(start);
                    return 0;
                }
                if score < limit {
                    extension = 1 + i32::from(!PV && score < limit - 25);
                } else if limit >= beta {
                    self.moves.truncate(start);
                    return limit;
                } else if f.score >= beta {
                    extension = -1;
                }
            } else if check
                && (ply as i32) < 2 * self.root_depth
                && (uncovers || exchange::wins_at_least(p, m, 0))
            {
                extension = 1;
            }

            self.table.touch(p.key_after(m));
            let child = p.after(m);
            self.enter(p, m, ply, &child);
            let full = depth - 1 + extension;
            let mut score = -INFINITE;
            if depth >= 2 && number > 1 + usize::from(PV) {
                let mut r = reduction;
                if noisy {
                    r = r / 2 - past / 8;
                } else {
                    r -= past * 114 / 1024;
                    if picker.stage() <= Stage::Refutations {
                        r -= 1024;
                    }
                }
                r += 1024 * i32::from(cut) - 624 * i32::from(was_pv) - 2048 * i32::from(check);
                r += 900 * i32::from(!improving);
                r += 700 * i32::from(self.frames[here + 1].cutoffs > 3);
                let reduced = (full - r / 1024).clamp(1.min(full), full.max(1));
                score = -self.search::<false>(&child, Ask::least(-alpha, reduced, ply + 1, true));
                if score > alpha && reduced < full {
                    score = -self.search::<false>(&child, Ask::least(-alpha, full, ply + 1, !cut));
                }
            } else if !PV || number > 1 {
                score = -self.search::<false>(&child, Ask::least(-alpha, full, ply + 1, !cut));
            }
            if PV && (number == 1 || score > alpha) {
                score = -self.search::<true>(
                    &child,
                    Ask {
                        alpha: -beta,
                        beta: -alpha,
                        depth: full,
                        ply: ply + 1,
                        cut: false,
                    },
                );
            }
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
                        self.frames[here].cutoffs += 1;
                        break;
                    }
                    alpha = score;
                }
            }
            if m != best_move {
                if noisy {
                    noisies.push(m)
                } else {
                    quiets.push(m)
                }
            }
        }
        self.moves.truncate(start);
        if number == 0 {
            return match (excluded.is_none(), in_check) {
                (false, _) => alpha,
                (true, true) => -MATE + ply as i32,
                (true, false) => 0,
            };
        }
        let unsound = best_move.is_noisy()
            || best.abs() >= MATE_BOUND
            || (best >= beta && best <= static_eval)
            || (best_move.is_none() && best >= static_eval);
        if !in_check && excluded.is_none() && !unsound {
            self.history.correct(p, depth, best - raw_eval);
        }
        if best >= beta {
            self.learn(p, best_move, depth, ply, &before, &quiets, &noisies);
        }
        if excluded.is_none() {
            let bound = if best >= beta {
                Bound::Lower
            } else if best > old_alpha {
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
                    depth,
                    bound,
                    was_pv,
                },
            );
        }
        best
    }

    #[allow(clippy::too_many_arguments)] // One caller; a struct would only rename the arguments.
    fn learn(
        &mut self,
        p: &Position,
        m: Move,
        depth: i32,
        ply: usize,
        before: &[Option<Target>; 3],
        quiets: &Tried,
        noisies: &Tried,
    ) {
        let amount = bonus(depth);
        // What failed to cut says more than what cut.
        let malus = amount * 13 / 10;
        if m.is_noisy() {
            self.history.reward_capture(p, m, amount);
        } else {
            self.history.note_cutoff(ply, before[0], m);
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

/// After how many moves quiet ones are no longer worth a look.
fn late_count(depth: i32, improving: bool) -> usize {
    let base = 14 + 130 * depth * depth / 100;
    (if improving { base } else { base / 2 }) as usize
}
