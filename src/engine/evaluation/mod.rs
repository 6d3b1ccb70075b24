//! What a position is worth without searching.
//!
//! Takes a [`Position`] and its ply, gives centipawns for the side to move: by exact knowledge where an ending
//! has it (`endings`), else by a network that was learnt from the engine's own games (`learned`), less what
//! material that cannot win is overrated by (`scale`).

mod endings;
mod learned;
mod pawn_ending;
mod scale;

pub use learned::Learned;

use super::position::Position;
use super::types::*;

/// Phase of the starting position; 0 is bare kings and pawns.
pub const FULL_PHASE: i32 = 24;
const PHASE: [i32; 6] = [0, 1, 1, 2, 4, 0];
/// The network's values stay well below wins that are known.
const MOST: i32 = 4_000;

/// Middlegame share of a position: 24 with all pieces, 0 with none.
pub fn phase(p: &Position) -> i32 {
    let count = |kind: Kind| p.kind(kind).count() as i32 * PHASE[kind];
    (count(KNIGHT) + count(BISHOP) + count(ROOK) + count(QUEEN)).min(FULL_PHASE)
}

/// Centipawns for the side to move.
#[inline(always)]
pub fn evaluate(p: &Position, ply: usize, learned: &mut Learned) -> i32 {
    if let Some(score) = endings::known(p) {
        return if p.turn == WHITE { score } else { -score };
    }
    let value = learned.evaluate(p, ply).clamp(-MOST, MOST);
    let strong = if value > 0 { p.turn } else { p.turn ^ 1 };
    match scale::of(p, strong) {
        scale::FULL => value,
        0 => taper(value, 0, phase(p)),
        share => {
            let pressure = scale::pressure(p, strong);
            taper(value, share, phase(p)) + if value > 0 { pressure } else { -pressure }
        }
    }
}

/// The share counts the more, the fewer pieces are left.
#[cold]
fn taper(value: i32, share: i32, phase: i32) -> i32 {
    value * (phase * scale::FULL + (FULL_PHASE - phase) * share) / (FULL_PHASE * scale::FULL)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::bench::POSITIONS;
    use shakmaty::{CastlingMode, Chess, FromSetup, Position as _, fen::Fen};

    fn position(chess: &Chess) -> Position {
        Position::from_chess(chess).unwrap()
    }

    fn read(fen: &str) -> Chess {
        let setup: Fen = fen.parse().unwrap();
        setup.into_position(CastlingMode::Standard).unwrap()
    }

    /// Turned round and recoloured, a position is worth the same to the side to move.
    #[test]
    fn evaluation_is_symmetric() {
        let mut seed = 3;
        let mut learned = Learned::default();
        for fen in POSITIONS {
            let mut chess = read(fen);
            for _ in 0..60 {
                let setup = chess.clone().into_setup(shakmaty::EnPassantMode::Legal);
                let mut turned = setup.clone();
                turned.board.flip_vertical();
                turned.board.swap_colors();
                turned.castling_rights = setup.castling_rights.flip_vertical();
                turned.ep_square = setup.ep_square.map(shakmaty::Square::flip_vertical);
                turned.turn = !setup.turn;
                let other = Chess::from_setup(turned, CastlingMode::Standard).unwrap();
                let mut value = |chess| evaluate(&position(chess), 0, &mut learned);
                let fen = Fen::from_position(chess.clone(), shakmaty::EnPassantMode::Legal);
                assert_eq!(value(&chess), value(&other), "{fen}");
                let legal = chess.legal_moves();
                seed = crate::engine::keys::mix(seed);
                let Some(m) = legal.get(seed as usize % legal.len().max(1)) else {
                    break;
                };
                chess.play_unchecked(&m.clone());
            }
        }
    }

    /// What no network has to learn: material that cannot win, the wrong bishop, and mating material.
    #[test]
    fn exact_knowledge_stands_above_the_network() {
        let mut learned = Learned::default();
        let mut value = |fen| evaluate(&position(&read(fen)), 0, &mut learned);
        assert_eq!(value("8/8/4k3/8/8/2NNK3/8/8 w - - 0 1"), 0);
        // Rook's pawn, and a bishop that does not cover the corner (textbook, no source).
        let wrong_bishop = value("k7/8/8/P7/8/2B1K3/8/8 w - - 0 1");
        assert!(wrong_bishop.abs() < 10, "{wrong_bishop}");
        let rook_and_bishop = value("8/8/4k3/4b3/8/4KR2/8/8 w - - 0 1");
        assert!(rook_and_bishop.abs() < 100, "{rook_and_bishop}");
        let at_the_edge = value("4k3/8/4K3/4b3/8/5R2/8/8 w - - 0 1");
        assert!(at_the_edge > rook_and_bishop + 10, "{at_the_edge}");
        // Philidor's defence, and the same with the king cut off.
        let held = value("4k3/R7/8/3KP3/8/7r/8/8 w - - 0 1");
        let cut_off = value("7k/R7/8/3KP3/8/7r/8/8 w - - 0 1");
        assert!(2 * held.abs() < cut_off, "{held}, {cut_off}");
        assert!(value("8/8/4k3/8/8/3NKB2/8/8 w - - 0 1") > 1_000);
        assert!(value("8/8/4k3/8/8/4KR2/8/8 b - - 0 1") < -1_000);
    }
}
