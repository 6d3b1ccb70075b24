//! Opening, middlegame or ending.
//!
//! # Definition
//! *Ending*: both sides together have four pieces or fewer besides kings and pawns (N. Minev, A
//! Practical Guide to Rook Endgames, 2004, from memory). J. Speelman (Endgame Preparation, 1981, from
//! memory) counts points instead, 13 or fewer a side; the two mostly agree, but his limit makes rook
//! and bishop with six pawns a middlegame, which no club player would say.
//!
//! *Opening*: no ending, and some side has at least two of its knights and bishops still on their
//! first squares (common practice, no source: the opening is the development of the minor pieces).
//! *Middlegame*: everything else.
//!
//! # Known errors
//! Two queens and two rooks are four pieces, so queen and rook against queen and rook is an ending
//! even while the kings are in danger. A minor piece that has gone home again makes an opening.

use serde::{Deserialize, Serialize};
use shakmaty::{Bitboard, Chess, Color, Position, Square};

/// Pieces besides kings and pawns, of both sides together, in an ending at most.
const ENDING_PIECES: usize = 4;
/// Minor pieces of one side on their first squares that make an opening.
const AT_HOME: usize = 2;

/// A part of the game.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Phase {
    Opening,
    Middlegame,
    Ending,
}

impl Phase {
    /// The part of the game, in a word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Opening => tr!("opening"),
            Self::Middlegame => tr!("middlegame"),
            Self::Ending => tr!("ending"),
        }
    }
}

/// The part of the game a position belongs to.
#[must_use]
pub fn of(pos: &Chess) -> Phase {
    let board = pos.board();
    let pieces = board.occupied() & !board.kings() & !board.pawns();
    if pieces.count() <= ENDING_PIECES {
        Phase::Ending
    } else if Color::ALL.into_iter().any(|c| at_home(pos, c) >= AT_HOME) {
        Phase::Opening
    } else {
        Phase::Middlegame
    }
}

/// Knights and bishops of a side on squares where such a piece of its starts.
fn at_home(pos: &Chess, side: Color) -> usize {
    let home = |squares: [Square; 2]| -> Bitboard {
        let seen = squares.map(|s| side.fold_wb(s, s.flip_vertical()));
        seen.into_iter().collect()
    };
    let board = pos.board();
    let knights = board.knights() & home([Square::B1, Square::G1]);
    let bishops = board.bishops() & home([Square::C1, Square::F1]);
    (board.by_color(side) & (knights | bishops)).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::read_fen;

    fn phase(fen: &str) -> Phase {
        of(&read_fen(fen).unwrap())
    }

    #[test]
    fn textbook_positions() {
        assert_eq!(of(&Chess::default()), Phase::Opening);
        // Ruy Lopez after 9. h3 (R. Lopez de Segura, 1561; moves from memory): b1 and c1 at home.
        assert_eq!(
            phase("r1bq1rk1/2p1bppp/p1np1n2/1p2p3/4P3/1BP2N1P/PP1P1PP1/RNBQR1K1 b - - 0 9"),
            Phase::Opening
        );
        // The same with the knight on f1 and Black developed.
        assert_eq!(
            phase("r2q1rk1/1b2bppp/p1np1n2/1pp1p3/4P3/1BPP1N1P/PP3PP1/R1BQRNK1 w - - 0 12"),
            Phase::Middlegame
        );
        // Philidor's rook ending and Lucena's position (1777, 1497, from memory).
        assert_eq!(phase("4k3/7R/8/8/8/r7/3PK3/8 w - - 0 1"), Phase::Ending);
        assert_eq!(phase("1K1k4/1P6/8/8/8/8/r7/2R5 w - - 0 1"), Phase::Ending);
    }

    #[test]
    fn four_pieces_are_an_ending_and_five_are_not() {
        assert_eq!(
            phase("3r2k1/1b3ppp/8/8/8/8/5PPP/1B1R2K1 w - - 0 1"),
            Phase::Ending
        );
        assert_eq!(
            phase("3rr1k1/1b3ppp/8/8/8/8/5PPP/1B1R2K1 w - - 0 1"),
            Phase::Middlegame
        );
    }

    #[test]
    fn colours_do_not_matter() {
        for (pos, _) in crate::board::walks::positions(300, 5) {
            let mut flipped = pos.clone().into_setup(shakmaty::EnPassantMode::Legal);
            flipped.mirror();
            let flipped: Chess = flipped.position(shakmaty::CastlingMode::Standard).unwrap();
            assert_eq!(of(&pos), of(&flipped));
        }
    }
}
