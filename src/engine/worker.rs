//! One searching thread: its memory, its limits, and the driver that deepens step by step.
//!
//! Iterative deepening: D. Slate and L. Atkin, "Chess 4.5", in "Chess Skill in Man and Machine",
//! 1977. Aspiration windows: G. Baudet, "On the Branching Factor of the Alpha-Beta Pruning
//! Algorithm", 1978, and common practice since.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering::Relaxed};
use std::time::{Duration, Instant};

use super::evaluation::Learned;
use super::generate;
use super::history::{History, NO_TARGET, Target};
use super::moves::Moves;
use super::position::Position;
use super::reductions::Reductions;
use super::table::Table;
use super::types::*;

/// When a search ends. Whatever is reached first counts; nothing set means: until stopped.
#[derive(Clone, Debug, Default)]
pub struct Limits {
    pub depth: Option<i32>,
    pub nodes: Option<u64>,
    /// No new iteration after this.
    pub soft_time: Option<Duration>,
    /// Stop at once after this.
    pub hard_time: Option<Duration>,
    /// Search these moves alone; empty means all.
    pub moves: Vec<Move>,
    /// How many best moves to report, each searched to the full depth.
    pub lines: usize,
    /// Evaluations are off by at most this many centipawns, as decided by `seed`; 0 for none.
    pub noise: i32,
    pub seed: u64,
}

/// A move at the root with what is known about it.
#[derive(Clone, Debug)]
pub struct RootMove {
    pub mv: Move,
    /// Score of the current iteration; minus [`INFINITE`] if not raised above the window.
    pub score: i32,
    pub previous: i32,
    pub depth: i32,
    pub seldepth: usize,
    pub nodes: u64,
    pub line: Vec<Move>,
    /// What `score` is where it is not exact: the search ended before it was.
    pub bound: Option<Bound>,
}

/// A score of which only one side is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// It is this or higher.
    Lower,
    /// It is this or lower.
    Upper,
}

/// One line of the answer, as reported after each iteration.
#[derive(Clone, Copy, Debug)]
pub struct Report<'a> {
    pub depth: i32,
    pub seldepth: usize,
    /// Rank among the reported lines, from 1.
    pub rank: usize,
    pub score: i32,
    pub bound: Option<Bound>,
    pub nodes: u64,
    /// Fill of the table in permille.
    pub fill: usize,
    pub elapsed: Duration,
    pub line: &'a [Move],
}

/// Per half-move facts that deeper nodes look back at.
#[derive(Clone, Copy)]
pub struct Frame {
    /// Evaluation with and without what history corrects.
    pub eval: i32,
    pub raw: i32,
    pub target: Target,
    pub excluded: Move,
    /// Cut-offs seen among the children.
    pub cutoffs: u32,
}

impl Default for Frame {
    fn default() -> Frame {
        Frame {
            eval: 0,
            raw: 0,
            target: NO_TARGET,
            excluded: Move::NONE,
            cutoffs: 0,
        }
    }
}

/// Frames before the root, so that looking back four half-moves needs no case.
pub const FRAME_OFFSET: usize = 4;
/// Node counter value between looks at the clock.
const CLOCK_NODES: u64 = 1024;

pub struct Worker {
    pub table: Arc<Table>,
    pub stop: Arc<AtomicBool>,
    pub history: History,
    pub learned: Learned,
    pub reductions: Reductions,
    pub moves: Moves,
    /// Keys of the game and of the path searched, the current position last.
    pub keys: Vec<u64>,
    pub frames: Box<[Frame; MAX_PLY + FRAME_OFFSET + 8]>,
    pub lines: Box<[[Move; MAX_PLY + 1]; MAX_PLY + 1]>,
    pub line_len: [usize; MAX_PLY + 1],
    pub root: Vec<RootMove>,
    pub nodes: u64,
    pub seldepth: usize,
    pub stopped: bool,
    /// Below this ply no null move is tried: set while one is being verified.
    pub null_from: usize,
    pub root_depth: i32,
    look_at: u64,
    node_limit: u64,
    deadline: Option<Instant>,
    /// Bound and seed of what is added to evaluations.
    pub noise: (i32, u64),
    /// Nodes of the helpers of this thread's team.
    pub helped: Arc<AtomicU64>,
    /// Nodes of its leader, as far as he has told them.
    pub led: Arc<AtomicU64>,
    /// For a helper: how many of his nodes are already in `helped`.
    told: Option<u64>,
}

impl Worker {
    pub fn new(table: Arc<Table>, stop: Arc<AtomicBool>) -> Worker {
        Worker {
            table,
            stop,
            history: History::default(),
            learned: Learned::default(),
            reductions: Reductions::default(),
            moves: Moves::with_room(256 * (MAX_PLY + 8)),
            keys: Vec::with_capacity(2048),
            frames: Box::new([Frame::default(); MAX_PLY + FRAME_OFFSET + 8]),
            lines: Box::new([[Move::NONE; MAX_PLY + 1]; MAX_PLY + 1]),
            line_len: [0; MAX_PLY + 1],
            root: Vec::new(),
            nodes: 0,
            seldepth: 0,
            stopped: false,
            null_from: 0,
            root_depth: 0,
            look_at: 0,
            node_limit: u64::MAX,
            deadline: None,
            noise: (0, 0),
            helped: Arc::default(),
            led: Arc::default(),
            told: None,
        }
    }

    /// One that searches beside this leader and adds his nodes to `helped`.
    pub fn helper(&self, stop: Arc<AtomicBool>) -> Worker {
        Worker {
            helped: self.helped.clone(),
            led: self.led.clone(),
            told: Some(0),
            ..Worker::new(self.table.clone(), stop)
        }
    }

    /// Forgets what was learnt in earlier searches; the table is forgotten by its owner.
    pub fn forget(&mut self) {
        self.history.clear();
    }

    /// Searches `p`, whose game so far is given by keys (the current one last), and reports every
    /// finished line. Gives the root moves, best first; none if the game is over.
    pub fn think(
        &mut self,
        p: &Position,
        game: &[u64],
        limits: &Limits,
        report: &mut dyn FnMut(&Report),
    ) -> &[RootMove] {
        let started = Instant::now();
        self.prepare(p, game, limits, started);
        let wanted = limits.lines.clamp(1, self.root.len().max(1));
        let last = limits
            .depth
            .unwrap_or(MAX_PLY as i32 - 1)
            .clamp(1, MAX_PLY as i32 - 1);
        let mut best = (Move::NONE, 0);
        for depth in 1..=last {
            if self.root.is_empty() {
                break;
            }
            self.root_depth = depth;
            for root in &mut self.root {
                root.previous = root.value();
            }
            for first in 0..wanted {
                self.seldepth = 0;
                self.iterate(p, depth, first);
                if self.stopped {
                    break;
                }
                self.root[..=first].sort_by_key(|r| std::cmp::Reverse(r.score));
            }
            self.report_lines(wanted, started, report);
            if self.stopped {
                break;
            }
            if limits.lines <= 1 && self.mate_is_settled(depth) {
                break;
            }
            best = if self.root[0].mv == best.0 {
                (best.0, best.1 + 1)
            } else {
                (self.root[0].mv, 0)
            };
            if limits
                .soft_time
                .is_some_and(|soft| started.elapsed() >= self.patience(soft, best.1))
            {
                break;
            }
        }
        &self.root
    }

    /// A forced mate that twice its length of search has not shortened will not be shortened.
    fn mate_is_settled(&self, depth: i32) -> bool {
        let score = self.root[0].score;
        score.abs() >= MATE_BOUND && depth >= 2 * (MATE - score.abs()) + 4
    }

    /// Less time is needed when the best move has stood for long.
    fn patience(&self, soft: Duration, stood: i32) -> Duration {
        soft.mul_f64(1.4 - 0.1 * f64::from(stood.min(8)))
    }

    fn prepare(&mut self, p: &Position, game: &[u64], limits: &Limits, started: Instant) {
        self.keys.clear();
        self.keys.extend_from_slice(game);
        self.keys.reserve(MAX_PLY + 16);
        self.nodes = 0;
        self.told = self.told.map(|_| 0);
        self.stopped = false;
        self.null_from = 0;
        self.noise = (limits.noise, limits.seed);
        self.node_limit = limits.nodes.unwrap_or(u64::MAX).max(1);
        self.deadline = limits.hard_time.map(|t| started + t);
        self.look_at = self.node_limit.min(CLOCK_NODES);
        self.history.forget_killers();
        self.frames.fill(Frame::default());
        self.moves.truncate(0);
        generate::legal(p, &mut self.moves);
        let wanted = |m: &&Move| limits.moves.is_empty() || limits.moves.contains(m);
        self.root = self
            .moves
            .from(0)
            .iter()
            .filter(wanted)
            .map(|m| RootMove::new(*m))
            .collect();
        self.moves.truncate(0);
    }

    /// One depth for the best of the root moves from `first` on.
    fn iterate(&mut self, p: &Position, depth: i32, first: usize) {
        let guess = self.root[first..]
            .iter()
            .map(|r| r.previous)
            .max()
            .unwrap_or(-INFINITE);
        let mut width = 14;
        let (mut alpha, mut beta) = (-INFINITE, INFINITE);
        if depth >= 5 && guess.abs() < MATE_BOUND {
            (alpha, beta) = (guess - width, guess + width);
        }
        let mut failed: Option<RootMove> = None;
        loop {
            for root in &mut self.root[first..] {
                root.score = -INFINITE;
                root.bound = None;
            }
            let score = self.search_root(p, alpha, beta, depth, first);
            if self.stopped && self.root[first..].iter().all(|r| r.score == -INFINITE) {
                self.fall_back(first, failed);
                return;
            }
            self.root[first..].sort_by_key(|r| std::cmp::Reverse(r.score));
            if self.stopped {
                return;
            }
            failed = self.root.get(first).filter(|r| r.bound.is_some()).cloned();
            if score <= alpha {
                beta = (alpha + beta) / 2;
                alpha = if width > 500 {
                    -INFINITE
                } else {
                    (score - width).max(-INFINITE)
                };
            } else if score >= beta {
                beta = if width > 500 {
                    INFINITE
                } else {
                    (score + width).min(INFINITE)
                };
            } else {
                return;
            }
            width += width * 2 / 3;
        }
    }

    /// The search has ended before any move of this round had a score: those of the round before stand, and the move
    /// that left the window says by how much at least.
    fn fall_back(&mut self, first: usize, failed: Option<RootMove>) {
        for root in &mut self.root[first..] {
            root.score = root.previous;
        }
        if let Some(failed) = failed
            && let Some(root) = self.root[first..].iter_mut().find(|r| r.mv == failed.mv)
        {
            *root = failed;
        }
    }

    fn report_lines(&mut self, wanted: usize, started: Instant, report: &mut dyn FnMut(&Report)) {
        let nodes = self.team_nodes();
        for (i, root) in self.root[..wanted].iter().enumerate() {
            let score = root.value();
            if score == -INFINITE {
                continue;
            }
            report(&Report {
                depth: root.depth,
                seldepth: root.seldepth,
                rank: i + 1,
                score,
                bound: root.bound,
                nodes,
                fill: self.table.fill(),
                elapsed: started.elapsed(),
                line: &root.line,
            });
        }
    }

    /// Counts a node and looks whether the search has to end.
    #[inline]
    pub fn count_node(&mut self) {
        self.nodes += 1;
        if self.nodes >= self.look_at {
            self.look();
        }
    }

    fn look(&mut self) {
        let total = self.team_nodes();
        self.look_at = self.nodes + CLOCK_NODES.min(self.node_limit.saturating_sub(total));
        // The first iteration is always finished: there is an answer to everything.
        if self.root_depth <= 1 {
            self.look_at = self.nodes + 1;
            return;
        }
        self.stopped |= total >= self.node_limit
            || self.stop.load(Relaxed)
            || self.deadline.is_some_and(|d| Instant::now() >= d);
    }

    /// Nodes of the whole team as far as they were told; tells this thread's own. Everybody looks at the
    /// sum, or helpers would run past the limit while the leader waits for a processor.
    fn team_nodes(&mut self) -> u64 {
        match &mut self.told {
            None => {
                self.led.store(self.nodes, Relaxed);
                self.nodes + self.helped.load(Relaxed)
            }
            Some(told) => {
                let new = self.nodes - *told;
                *told = self.nodes;
                new + self.helped.fetch_add(new, Relaxed) + self.led.load(Relaxed)
            }
        }
    }

    /// The moves one, two and four half-moves before, for continuation history.
    #[inline]
    pub fn before(&self, ply: usize) -> [Target; 3] {
        let at = ply + FRAME_OFFSET;
        [
            self.frames[at - 1].target,
            self.frames[at - 2].target,
            self.frames[at - 4].target,
        ]
    }

    /// Puts `m` before the line found below `ply`.
    pub fn extend_line(&mut self, ply: usize, m: Move) {
        let length = if ply < MAX_PLY {
            self.line_len[ply + 1].min(MAX_PLY - ply - 1)
        } else {
            0
        };
        let (upper, lower) = self.lines.split_at_mut(ply + 1);
        upper[ply][0] = m;
        if let Some(below) = lower.first() {
            upper[ply][1..=length].copy_from_slice(&below[..length]);
        }
        self.line_len[ply] = length + 1;
    }
}

impl RootMove {
    /// Score of this iteration or, where it was not reached, of the one before.
    pub fn value(&self) -> i32 {
        if self.score == -INFINITE {
            self.previous
        } else {
            self.score
        }
    }

    pub fn new(mv: Move) -> RootMove {
        let mut line = Vec::with_capacity(MAX_PLY + 1);
        line.push(mv);
        RootMove {
            mv,
            score: -INFINITE,
            previous: -INFINITE,
            depth: 0,
            seldepth: 0,
            nodes: 0,
            line,
            bound: None,
        }
    }
}

#[cfg(test)]
#[path = "worker_tests.rs"]
mod tests;
