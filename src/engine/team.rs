//! Several threads on one search: all search the same position and help each other through the shared
//! table alone (lazy SMP; E. F. Østensen, "A Complete Chess Engine Parallelized Using Lazy SMP",
//! University of Oslo, 2016, from memory).
//!
//! One thread leads: its limits end the search (that of nodes is watched by all), its lines are
//! reported. A team of one is the leader alone and as repeatable as he is; with helpers the order of
//! what reaches the table, and so the answer, differs from run to run.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering::Relaxed};
use std::thread;

use super::position::Position;
use super::table::Table;
use super::worker::{Limits, Report, RootMove, Worker};

/// Bytes of stack for a search of full depth.
pub const STACK: usize = 32 << 20;
/// Threads a team may have.
pub const MOST: usize = 64;

pub struct Team {
    leader: Worker,
    helpers: Vec<Worker>,
    /// Ends the helpers' search.
    halt: Arc<AtomicBool>,
}

/// Halts the helpers when the leader is done, also when he broke off.
struct Halt<'a>(&'a AtomicBool);

impl Drop for Halt<'_> {
    fn drop(&mut self) {
        self.0.store(true, Relaxed);
    }
}

impl Team {
    /// A team of `threads` (1 to [`MOST`]) around a table, ended by `stop`.
    pub fn new(table: &Arc<Table>, stop: &Arc<AtomicBool>, threads: usize) -> Team {
        let halt = Arc::new(AtomicBool::new(true));
        let leader = Worker::new(table.clone(), stop.clone());
        let helpers = (1..threads.clamp(1, MOST))
            .map(|_| leader.helper(halt.clone()))
            .collect();
        Team {
            leader,
            helpers,
            halt,
        }
    }

    /// Forgets what was learnt in earlier searches; the table is forgotten by its owner.
    pub fn forget(&mut self) {
        self.leader.forget();
        self.helpers.iter_mut().for_each(Worker::forget);
    }

    /// As [`Worker::think`], by all threads, or by the leader `alone`.
    pub fn think(
        &mut self,
        p: &Position,
        game: &[u64],
        limits: &Limits,
        alone: bool,
        report: &mut dyn FnMut(&Report),
    ) -> &[RootMove] {
        self.leader.helped.store(0, Relaxed);
        self.leader.led.store(0, Relaxed);
        if alone || self.helpers.is_empty() {
            return self.leader.think(p, game, limits, report);
        }
        let open = Limits {
            depth: None,
            soft_time: None,
            hard_time: None,
            ..limits.clone()
        };
        self.halt.store(false, Relaxed);
        let leader = &mut self.leader;
        thread::scope(|scope| {
            let _halt = Halt(&self.halt);
            for helper in &mut self.helpers {
                let work = || {
                    helper.think(p, game, &open, &mut |_| ());
                };
                // A thread that cannot be had is one less.
                let _ = thread::Builder::new()
                    .name("helper".to_owned())
                    .stack_size(STACK)
                    .spawn_scoped(scope, work);
            }
            leader.think(p, game, limits, report)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::bench;

    fn answers(threads: usize) -> Vec<(u16, i32)> {
        let table = Arc::new(Table::new(1));
        let stop = Arc::new(AtomicBool::new(false));
        let mut team = Team::new(&table, &stop, threads);
        let limits = Limits {
            depth: Some(5),
            lines: 1,
            ..Limits::default()
        };
        bench::positions()
            .map(|p| {
                let best = &team.think(&p, &[p.key], &limits, false, &mut |_| ())[0];
                assert_eq!(best.depth, 5);
                assert!(p.is_pseudo_legal(best.mv) && p.is_legal(best.mv));
                (best.mv.bits(), best.score)
            })
            .collect()
    }

    #[test]
    fn a_team_of_one_is_repeatable_and_larger_ones_finish_too() {
        assert_eq!(answers(1), answers(1));
        assert_eq!(answers(3).len(), bench::POSITIONS.len());
    }

    /// The leader's limit ends everybody, and nodes of all are counted.
    #[test]
    fn the_limit_of_nodes_is_the_teams() {
        let table = Arc::new(Table::new(1));
        let stop = Arc::new(AtomicBool::new(false));
        let mut team = Team::new(&table, &stop, 3);
        let limits = Limits {
            nodes: Some(60_000),
            lines: 1,
            ..Limits::default()
        };
        let p = bench::positions().nth(1).unwrap();
        let mut said = 0;
        team.think(&p, &[p.key], &limits, false, &mut |r| said = r.nodes);
        assert!((50_000..70_000).contains(&said), "{said}");
        assert!(said >= team.leader.nodes);
    }
}
