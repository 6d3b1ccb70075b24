//! Games of the engine against itself, for tuning the evaluation and for calibrating expectations.
//!
//! Each game starts with some random moves, numbered by a seed, so that the same command makes the
//! same games however many threads share the work. Every position is kept with the score of the
//! search that chose the move; those without check whose best move neither captures nor promotes,
//! where a static evaluation can be asked to be right, are marked as quiet.

use std::collections::HashSet;
use std::io::{self, Write};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering::Relaxed};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use shakmaty::Chess;

use super::generate;
use super::keys::mix;
use super::moves::Moves;
use super::position::Position;
use super::record::{End, Record};
use super::table::Table;
use super::types::*;
use super::worker::{Limits, Worker};

/// What games to play.
#[derive(Clone, Copy, Debug)]
pub struct SelfPlay {
    /// Number of the first game; it decides the random moves.
    pub first: u64,
    pub games: u64,
    /// Nodes per move.
    pub nodes: u64,
    pub threads: usize,
    /// No game is begun after this.
    pub time: Option<Duration>,
}

const MAX_PLIES: usize = 400;
/// Random half-moves at the start; odd games one more, so that both sides move first.
const RANDOM_PLIES: u64 = 8;
/// Openings further from level than this are thrown away.
const FAIR: i32 = 180;

/// A finished game: its kept positions with White's points doubled.
struct Game {
    records: Vec<Record>,
}

struct Player {
    worker: Worker,
    table: Arc<Table>,
    limits: Limits,
    moves: Moves,
}

/// What a run of self-play gave.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Played {
    pub games: u64,
    pub positions: u64,
}

/// What the threads of a run share.
struct Run<'a, W> {
    plan: &'a SelfPlay,
    done: &'a HashSet<u64>,
    until: Option<Instant>,
    next: AtomicU64,
    out: Mutex<(W, io::Result<()>, Played)>,
}

/// Plays those games of the plan that are not `done` and writes their packed records, each game at
/// once and whole.
///
/// # Errors
/// Output that cannot be written; the rest is then not played.
pub fn play(plan: &SelfPlay, done: &HashSet<u64>, out: impl Write + Send) -> io::Result<Played> {
    let run = Run {
        plan,
        done,
        until: plan.time.and_then(|t| Instant::now().checked_add(t)),
        next: AtomicU64::new(plan.first),
        out: Mutex::new((out, Ok(()), Played::default())),
    };
    std::thread::scope(|scope| {
        for _ in 0..plan.threads.max(1) {
            // A thread that cannot be had is one less; the games are taken by the others.
            let _ = std::thread::Builder::new()
                .stack_size(32 << 20)
                .spawn_scoped(scope, || run.work());
        }
    });
    let (_, result, played) = run.out.into_inner().unwrap_or_else(PoisonError::into_inner);
    result.map(|()| played)
}

impl<W: Write> Run<'_, W> {
    fn work(&self) {
        let mut player = Player::new(self.plan.nodes);
        while self.until.is_none_or(|end| Instant::now() < end) {
            let number = self.next.fetch_add(1, Relaxed);
            if number >= self.plan.first.saturating_add(self.plan.games) {
                return;
            }
            if !self.done.contains(&number) && !self.keep(number, player.game(number).as_ref()) {
                return;
            }
        }
    }

    /// Writes a game and its end; false if nothing can be written any more.
    fn keep(&self, number: u64, game: Option<&Game>) -> bool {
        let records = game.map_or(&[][..], |g| &g.records);
        let mut bytes: Vec<u8> = records.iter().flat_map(Record::pack).collect();
        bytes.extend(
            End {
                game: number,
                nodes: self.plan.nodes,
            }
            .pack(),
        );
        let mut out = self.out.lock().unwrap_or_else(PoisonError::into_inner);
        if out.1.is_err() {
            return false;
        }
        out.1 = out.0.write_all(&bytes).and_then(|()| out.0.flush());
        out.2.games += u64::from(game.is_some());
        out.2.positions += records.len() as u64;
        out.1.is_ok()
    }
}

impl Player {
    fn new(nodes: u64) -> Player {
        let table = Arc::new(Table::new(8));
        Player {
            worker: Worker::new(table.clone(), Arc::new(AtomicBool::new(false))),
            table,
            limits: Limits {
                nodes: Some(nodes),
                lines: 1,
                ..Limits::default()
            },
            moves: Moves::default(),
        }
    }

    /// Best move and score for White.
    fn think(&mut self, p: &Position, keys: &[u64]) -> Option<(Move, i32)> {
        self.table.new_search();
        let best = self
            .worker
            .think(p, keys, &self.limits, &mut |_| ())
            .first()?;
        let score = best.value();
        Some((best.mv, if p.turn == WHITE { score } else { -score }))
    }

    fn opening(&mut self, number: u64) -> Option<(Position, Vec<u64>)> {
        let mut p = Position::from_chess(&Chess::default())?;
        let mut keys = vec![p.key];
        for ply in 0..RANDOM_PLIES + number % 2 {
            self.moves.truncate(0);
            generate::legal(&p, &mut self.moves);
            let pick = mix(mix(number) ^ ply) as usize;
            let m = self.moves.get(pick % self.moves.len().max(1))?;
            p = p.after(m);
            keys.push(p.key);
        }
        Some((p, keys))
    }

    /// Plays one game; `None` if its opening is lopsided.
    fn game(&mut self, number: u64) -> Option<Game> {
        self.table.forget();
        self.worker.forget();
        let (mut p, mut keys) = self.opening(number)?;
        let mut records = Vec::new();
        // One game in eight is played to the very end, to see endings won and held.
        let to_the_end = number.is_multiple_of(8);
        let (mut decided, mut level) = (0_i32, 0);
        let mut points = 1;
        for ply in 0..MAX_PLIES {
            if self.is_drawn(&p, &keys) {
                break;
            }
            let Some((m, score)) = self.think(&p, &keys) else {
                points = if !p.in_check() {
                    1
                } else if p.turn == WHITE {
                    0
                } else {
                    2
                };
                break;
            };
            if ply == 0 && score.abs() > FAIR {
                return None;
            }
            decided = if score.abs() < 1000 {
                0
            } else {
                decided + score.signum()
            };
            level = if score.abs() <= 8 { level + 1 } else { 0 };
            if score.abs() >= MATE_BOUND || (!to_the_end && decided.abs() >= 6) {
                points = if score > 0 { 2 } else { 0 };
                break;
            }
            if !to_the_end && ply > 70 && level >= 16 {
                break;
            }
            records.push(Record {
                position: p,
                score,
                points: 1,
                quiet: !p.in_check() && !m.is_noisy(),
            });
            p = p.after(m);
            keys.push(p.key);
        }
        for record in &mut records {
            record.points = points;
        }
        Some(Game { records })
    }

    fn is_drawn(&self, p: &Position, keys: &[u64]) -> bool {
        let same = keys.iter().filter(|k| **k == p.key).count();
        same >= 3 || p.is_dead() || (p.quiet_plies >= 100 && !p.in_check())
    }
}

#[cfg(test)]
mod tests {
    use super::super::record::BYTES;
    use super::*;

    #[test]
    fn the_same_command_makes_the_same_games() {
        let plan = SelfPlay {
            first: 3,
            games: 3,
            nodes: 150,
            threads: 1,
            time: None,
        };
        let (mut a, mut b) = (Vec::new(), Vec::new());
        let played = play(&plan, &HashSet::new(), &mut a).unwrap();
        play(&plan, &HashSet::new(), &mut b).unwrap();
        assert!(played.positions > 10);
        assert_eq!(a.len() as u64, (played.positions + 3) * BYTES as u64);
        assert!(a == b);
        // Nothing is played that was played before.
        let mut c = Vec::new();
        let rest = play(&plan, &HashSet::from([3]), &mut c).unwrap();
        assert!(rest.positions <= played.positions);
        assert!(a.ends_with(&c) && c.len() < a.len());
    }
}
