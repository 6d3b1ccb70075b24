//! A fixed amount of work on fixed positions: how fast, and is it still the same search? Beside it what
//! the machine allows at this moment, and how soon a search obeys.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering::Relaxed};
use std::time::{Duration, Instant};

use shakmaty::{CastlingMode, Chess, Position as _, fen::Fen};

use super::position::Position;
use super::table::Table;
use super::worker::{Limits, Worker};

/// Openings, middlegames and endings. The second is P. Bayley's perft position (1990s, from memory),
/// the endings are F. Saavedra 1895, R. Réti 1921, E. Lasker and G. Reichhelm 1901 and P. Philidor
/// 1777 (from memory); the others were composed for this file.
pub const POSITIONS: [&str; 16] = [
    "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
    "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
    "r1bqk2r/pp2bppp/2n1pn2/2pp4/3P1B2/2PBPN2/PP1N1PPP/R2QK2R w KQkq - 0 8",
    "r2q1rk1/1b2bppp/p1n1pn2/1p6/3P4/1B3N2/PP2QPPP/RNBR2K1 b - - 0 13",
    "r1b2rk1/2q1bppp/p2ppn2/1p6/3QP3/1BN1B3/PPP2PPP/R4RK1 w - - 0 12",
    "2rq1rk1/pb2bppp/1p2pn2/8/2PP4/P1NB4/1B2QPPP/3R1RK1 w - - 0 16",
    "r4rk1/pp1qppbp/2np1np1/8/2PNP1b1/2N1B3/PP2BPPP/R2Q1RK1 w - - 0 10",
    "r1bq1rk1/ppp1npbp/3p1np1/3Pp3/2P1P3/2N2N2/PP2BPPP/R1BQ1RK1 b - - 0 9",
    "3r1rk1/1p3ppp/p1q1bn2/4p3/4P3/1BP2Q2/PP3PPP/R2R2K1 b - - 0 19",
    "4r1k1/pp3ppp/2p2n2/3p4/3P4/2PB1P2/PP3KPP/4R3 w - - 0 24",
    "8/2p2pk1/1p1p2p1/p2Pp2p/P1P1P2P/1P3PP1/6K1/8 w - - 0 40",
    "5rk1/R4p1p/1p4p1/3pP3/3P4/6P1/1r3P1P/R5K1 w - - 0 28",
    "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1",
    "7K/8/k1P5/7p/8/8/8/8 w - - 0 1",
    "8/k7/3p4/p2P1p2/P2P1P2/8/8/K7 w - - 0 1",
    "4k3/R7/8/3KP3/7r/8/8/8 b - - 0 1",
];

/// What a run of the bench gave.
#[derive(Clone, Copy, Debug)]
pub struct Outcome {
    /// Fingerprint: changes with every change of the search.
    pub nodes: u64,
    pub elapsed: Duration,
    /// Moves a second that shakmaty alone generates and plays on the trees of the same positions: the
    /// ceiling of any search built on its positions, on this machine, now.
    pub ceiling: f64,
    /// From the order to stop until the search has ended: the median and the worst of [`STOPS`].
    pub stop: (Duration, Duration),
    /// How many of so many searches that [`CUT`] nodes cut off ended on a score that is only a bound, and said so.
    pub bounds: (usize, usize),
}

const STOPS: usize = 31;
/// Nodes that cut a search off wherever it is.
pub const CUT: u64 = 20_000;

/// Searches all positions to `depth`, each with an empty memory.
pub fn run(depth: i32) -> Outcome {
    let table = Arc::new(Table::new(16));
    let mut worker = Worker::new(table.clone(), Arc::new(AtomicBool::new(false)));
    let limits = Limits {
        depth: Some(depth),
        lines: 1,
        ..Limits::default()
    };
    let (mut nodes, mut elapsed) = (0, Duration::ZERO);
    let (mut played, mut playing) = (0, Duration::ZERO);
    for chess in games() {
        let Some(p) = Position::from_chess(&chess) else {
            continue;
        };
        table.forget();
        worker.forget();
        let started = Instant::now();
        worker.think(&p, &[p.key], &limits, &mut |_| ());
        let searched = started.elapsed();
        nodes += worker.nodes;
        elapsed += searched;
        // In turn and equally long: what else the machine does slows both alike.
        let started = Instant::now();
        while started.elapsed() < searched {
            played += tree(&chess, 3);
        }
        playing += started.elapsed();
    }
    Outcome {
        nodes,
        elapsed,
        ceiling: played as f64 / playing.as_secs_f64().max(1e-9),
        stop: stop_times(),
        bounds: bounds(),
    }
}

/// Searches that end on a bound, of all.
fn bounds() -> (usize, usize) {
    let table = Arc::new(Table::new(16));
    let mut worker = Worker::new(table.clone(), Arc::new(AtomicBool::new(false)));
    let limits = Limits {
        nodes: Some(CUT),
        lines: 1,
        ..Limits::default()
    };
    let (mut some, mut all) = (0, 0);
    for p in positions() {
        table.forget();
        worker.forget();
        let mut last = None;
        worker.think(&p, &[p.key], &limits, &mut |r| last = r.bound);
        some += usize::from(last.is_some());
        all += 1;
    }
    (some, all)
}

/// Plays every move of the tree, the last ones too; gives how many.
fn tree(chess: &Chess, depth: u32) -> u64 {
    let moves = chess.legal_moves();
    let mut played = moves.len() as u64;
    for m in &moves {
        let mut next = chess.clone();
        next.play_unchecked(m);
        if depth > 1 {
            played += tree(&next, depth - 1);
        } else {
            std::hint::black_box(&next);
        }
    }
    played
}

fn stop_times() -> (Duration, Duration) {
    let stop = Arc::new(AtomicBool::new(false));
    let mut worker = Worker::new(Arc::new(Table::new(16)), stop.clone());
    let all: Vec<Position> = positions().collect();
    let some = all.iter().cycle().take(STOPS);
    let mut times: Vec<Duration> = some.map(|p| stop_time(&mut worker, p, &stop)).collect();
    times.sort_unstable();
    (times[STOPS / 2], times[STOPS - 1])
}

fn stop_time(worker: &mut Worker, p: &Position, stop: &AtomicBool) -> Duration {
    stop.store(false, Relaxed);
    std::thread::scope(|scope| {
        let asking = scope.spawn(|| {
            std::thread::sleep(Duration::from_millis(20));
            let asked = Instant::now();
            stop.store(true, Relaxed);
            asked
        });
        worker.think(p, &[p.key], &Limits::default(), &mut |_| ());
        let ended = Instant::now();
        // A search that ends by itself, at the greatest depth, before it is asked took no time.
        asking.join().map_or(Duration::ZERO, |asked| {
            ended.saturating_duration_since(asked)
        })
    })
}

fn games() -> impl Iterator<Item = Chess> {
    POSITIONS.iter().filter_map(|fen| {
        let fen = fen.parse::<Fen>().ok()?;
        fen.into_position(CastlingMode::Standard).ok()
    })
}

pub fn positions() -> impl Iterator<Item = Position> {
    games().filter_map(|chess| Position::from_chess(&chess))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_positions_are_legal() {
        assert_eq!(positions().count(), POSITIONS.len());
    }

    #[test]
    fn the_same_work_gives_the_same_nodes() {
        let (first, second) = (run(5), run(5));
        assert_eq!(first.nodes, second.nodes);
        assert!(first.ceiling > 0.0 && first.stop.0 <= first.stop.1);
        assert_eq!(first.bounds, second.bounds);
        assert!(first.bounds.0 < first.bounds.1 / 2, "{:?}", first.bounds);
    }
}
