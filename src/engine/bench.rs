//! A fixed amount of work on fixed positions: how fast, and is it still the same search?

use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use shakmaty::{CastlingMode, Chess, fen::Fen};

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
}

/// Searches all positions to `depth`, each with an empty memory.
pub fn run(depth: i32) -> Outcome {
    let table = Arc::new(Table::new(16));
    let mut worker = Worker::new(table.clone(), Arc::new(AtomicBool::new(false)));
    let limits = Limits {
        depth: Some(depth),
        lines: 1,
        ..Limits::default()
    };
    let started = Instant::now();
    let mut nodes = 0;
    for p in positions() {
        table.forget();
        worker.forget();
        worker.think(&p, &[p.key], &limits, &mut |_| ());
        nodes += worker.nodes;
    }
    Outcome {
        nodes,
        elapsed: started.elapsed(),
    }
}

pub fn positions() -> impl Iterator<Item = Position> {
    POSITIONS.iter().filter_map(|fen| {
        let chess: Chess = fen
            .parse::<Fen>()
            .ok()?
            .into_position(CastlingMode::Standard)
            .ok()?;
        Position::from_chess(&chess)
    })
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
        assert_eq!(run(5).nodes, run(5).nodes);
    }
}
