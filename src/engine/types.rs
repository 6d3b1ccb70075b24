//! The small vocabulary of the engine: colours, kinds of piece and packed moves.
//!
//! Plain integers are used instead of enums so that they index tables without conversion.

use std::fmt;

use shakmaty::{Role, Square};

/// Index of a colour: [`WHITE`] or [`BLACK`].
pub type Colour = usize;
pub const WHITE: Colour = 0;
pub const BLACK: Colour = 1;

/// Index of a kind of piece: [`PAWN`] to [`KING`].
pub type Kind = usize;
pub const PAWN: Kind = 0;
pub const KNIGHT: Kind = 1;
pub const BISHOP: Kind = 2;
pub const ROOK: Kind = 3;
pub const QUEEN: Kind = 4;
pub const KING: Kind = 5;

/// A piece of one colour: kind plus eight times the colour. [`EMPTY`] is no piece.
pub type Piece = u8;
/// Kind bits 6: never the kind of a piece.
pub const EMPTY: Piece = 6;

/// Deepest half-move counted from the root that the search reaches.
pub const MAX_PLY: usize = 120;
/// Score of being mated now; mate in `n` half-moves is `MATE - n`.
pub const MATE: i32 = 32_000;
/// Scores beyond this are mates within [`MAX_PLY`] half-moves.
pub const MATE_BOUND: i32 = MATE - MAX_PLY as i32 - 8;
/// Beyond every score.
pub const INFINITE: i32 = 32_500;
/// Scores proven by endgame knowledge stay below this and above every ordinary evaluation.
pub const KNOWN_WIN: i32 = 10_000;

pub fn piece(colour: Colour, kind: Kind) -> Piece {
    (kind | colour << 3) as Piece
}

pub fn kind_of(piece: Piece) -> Kind {
    usize::from(piece & 7)
}

pub fn colour_of(piece: Piece) -> Colour {
    usize::from(piece >> 3) & 1
}

/// Square as a table index.
pub fn at(square: Square) -> usize {
    square as usize & 63
}

/// Square seen from `colour`'s side of the board: White's own view is the board as it is.
pub fn relative(colour: Colour, square: Square) -> usize {
    at(square) ^ (56 * colour)
}

/// Rank 0 to 7 counted from `colour`'s side of the board.
pub fn relative_rank(colour: Colour, square: Square) -> usize {
    relative(colour, square) >> 3
}

pub fn square(index: usize) -> Square {
    Square::new(index as u32 & 63)
}

/// A move packed into 16 bits: origin, destination and a tag.
#[derive(Clone, Copy, PartialEq, Eq, Default, Hash)]
pub struct Move(u16);

/// What is special about a move; the upper four bits of [`Move`].
pub mod tag {
    pub const QUIET: u16 = 0;
    pub const DOUBLE: u16 = 1;
    pub const CASTLE_SHORT: u16 = 2;
    pub const CASTLE_LONG: u16 = 3;
    pub const CAPTURE: u16 = 4;
    pub const EN_PASSANT: u16 = 5;
    /// Plus 0 to 3 for knight, bishop, rook, queen; plus 4 when it captures.
    pub const PROMOTION: u16 = 8;
}

impl Move {
    /// No move; also what a null move is stored as.
    pub const NONE: Move = Move(0);

    pub fn new(from: Square, to: Square, tag: u16) -> Move {
        Move(from as u16 | (to as u16) << 6 | tag << 12)
    }

    pub fn from_bits(bits: u16) -> Move {
        Move(bits)
    }

    pub fn bits(self) -> u16 {
        self.0
    }

    pub fn from(self) -> Square {
        square(usize::from(self.0 & 63))
    }

    pub fn to(self) -> Square {
        square(usize::from(self.0 >> 6 & 63))
    }

    pub fn tag(self) -> u16 {
        self.0 >> 12
    }

    pub fn is_none(self) -> bool {
        self.0 == 0
    }

    pub fn is_capture(self) -> bool {
        self.tag() & 4 != 0
    }

    pub fn is_promotion(self) -> bool {
        self.tag() & 8 != 0
    }

    pub fn is_castle(self) -> bool {
        self.tag() == tag::CASTLE_SHORT || self.tag() == tag::CASTLE_LONG
    }

    pub fn is_en_passant(self) -> bool {
        self.tag() == tag::EN_PASSANT
    }

    /// Kind promoted to; meaningful only for promotions.
    pub fn promoted(self) -> Kind {
        KNIGHT + usize::from(self.tag() & 3)
    }

    /// A capture or a promotion to a queen: what quiescence looks at.
    pub fn is_noisy(self) -> bool {
        self.is_capture() || (self.is_promotion() && self.promoted() == QUEEN)
    }

    /// Origin and destination as an index below 4096.
    pub fn path(self) -> usize {
        usize::from(self.0 & 0xfff)
    }
}

/// Long algebraic notation of the UCI protocol; `0000` for no move.
impl fmt::Display for Move {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_none() {
            return f.write_str("0000");
        }
        write!(f, "{}{}", self.from(), self.to())?;
        if self.is_promotion() {
            f.write_str(["", "n", "b", "r", "q", ""][self.promoted()])?;
        }
        Ok(())
    }
}

impl fmt::Debug for Move {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

pub fn kind_from_role(role: Role) -> Kind {
    role as usize - 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_keep_their_parts() {
        let m = Move::new(Square::G7, Square::H8, tag::PROMOTION | 4 | 3);
        assert_eq!((m.from(), m.to()), (Square::G7, Square::H8));
        assert!(m.is_capture() && m.is_promotion() && m.is_noisy());
        assert_eq!(m.to_string(), "g7h8q");
        assert_eq!(Move::NONE.to_string(), "0000");
    }
}
