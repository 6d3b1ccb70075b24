//! Random lines of legal moves for property tests.

use proptest::prelude::*;
use shakmaty::{Chess, Position};

use crate::board::{Line, line::read_fen};

/// Positions that reach castling, promotion and taking in passing within few moves. The second is
/// the position by Steven Edwards that is used everywhere to count moves ("kiwipete", from memory).
const ROOTS: [&str; 5] = [
    "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
    "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
    "r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1",
    "8/PPP4k/8/2pPp3/5pP1/8/K4ppp/8 w - - 0 1",
    "4k2r/8/3q4/8/8/3Q4/8/R3K2R w KQk - 0 1",
];

/// A line of up to `plies` legal moves from one of the roots.
pub(crate) fn line(plies: usize) -> impl Strategy<Value = Line> {
    let picks = proptest::collection::vec(any::<prop::sample::Index>(), 0..plies);
    (0..ROOTS.len(), picks).prop_map(|(root, picks)| {
        let mut line = Line::new(read_fen(ROOTS[root]).unwrap_or_else(|_| Chess::default()));
        for pick in picks {
            let moves = line.position().legal_moves();
            if moves.is_empty() {
                break;
            }
            line.push(&moves[pick.index(moves.len())]).unwrap();
        }
        line
    })
}
