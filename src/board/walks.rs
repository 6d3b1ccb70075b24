//! For tests: positions met on random walks of legal moves, always the same ones.

use shakmaty::{CastlingMode, Chess, EnPassantMode, Move, Position};

use super::line::read_fen;
use super::random::SplitMix;

/// Roots from which castling, promotion, taking in passing and pins are near. The second is the
/// position by Steven Edwards that is used everywhere to count moves (from memory).
pub(crate) const ROOTS: [&str; 6] = [
    "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
    "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
    "8/PPP4k/8/2pPp3/5pP1/8/K4ppp/8 w - - 0 1",
    "r2q1rk1/pP1p2pp/Q4n2/bbp1p3/Np6/1B3NBn/pPPP1PPP/R3K2R b KQ - 0 1",
    "3rr1k1/1b1n1ppp/1pn1p3/q1pp4/3PP3/2PB1N2/PBQN1PPP/3RR1K1 w - - 0 1",
    "2r1r1k1/1P1n1p1p/2q3p1/3pR3/3P4/1Q3N2/1p3PPP/2R3K1 b - - 0 1",
];

/// Numbers without pattern, from a seed.
pub(crate) struct Dice(pub u64);

impl Dice {
    pub(crate) fn below(&mut self, n: usize) -> usize {
        let mut numbers = SplitMix(self.0);
        let rolled = numbers.roll();
        self.0 = numbers.0;
        usize::try_from(rolled >> 33).unwrap() % n
    }
}

/// Every position of walks of up to 60 half-moves, until `count` are reached, each with the move that
/// follows there.
pub(crate) fn positions(count: usize, seed: u64) -> Vec<(Chess, Move)> {
    let mut dice = Dice(seed);
    let mut met = Vec::new();
    while met.len() < count {
        let mut pos = read_fen(ROOTS[dice.below(ROOTS.len())]).unwrap();
        for _ in 0..60 {
            let legal = pos.legal_moves();
            if legal.is_empty() {
                break;
            }
            let mv = legal[dice.below(legal.len())].clone();
            met.push((pos.clone(), mv.clone()));
            pos.play_unchecked(&mv);
        }
    }
    met.truncate(count);
    met
}

/// The same position and move with the colours exchanged.
pub(crate) fn mirrored(pos: &Chess, mv: &Move) -> (Chess, Move) {
    let mut setup = pos.clone().into_setup(EnPassantMode::Legal);
    setup.mirror();
    let flipped: Chess = setup.position(CastlingMode::Standard).unwrap();
    let uci = mv.to_uci(CastlingMode::Standard).to_mirrored();
    let mv = uci.to_move(&flipped).unwrap();
    (flipped, mv)
}
