//! Piece and square values, which a position sums up move by move.

use super::terms;
use super::types::*;
use super::weights::WEIGHTS;

/// Piece and square to value, White's pieces positive, Black's negative.
pub static PIECE_SQUARE: [[Score; 64]; 16] = piece_square();

/// Weight of a square on the 32-square board of `SQUARES`: wings are alike.
pub const fn square_term(kind: Kind, relative: usize) -> usize {
    let file = relative & 7;
    let folded = if file < 4 { file } else { 7 - file };
    terms::SQUARES + kind * 32 + (relative >> 3) * 4 + folded
}

const fn piece_square() -> [[Score; 64]; 16] {
    let mut table = [[Score::ZERO; 64]; 16];
    let mut kind = PAWN;
    while kind <= KING {
        let mut at = 0;
        while at < 64 {
            let square = WEIGHTS[square_term(kind, at)];
            let worth = if kind < KING {
                WEIGHTS[terms::MATERIAL + kind]
            } else {
                Score::ZERO
            };
            let (m, e) = (square.middle() + worth.middle(), square.end() + worth.end());
            table[kind][at] = Score::new(m, e);
            table[kind | 8][at ^ 56] = Score::new(-m, -e);
            at += 1;
        }
        kind += 1;
    }
    table
}
