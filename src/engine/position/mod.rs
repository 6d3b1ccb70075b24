//! The engine's own board: sets of squares per kind and colour, with keys kept up to date.
//!
//! A move makes a new value (`after`), nothing is taken back. Copying some two hundred bytes costs
//! less than undoing, and no state can be left half restored. Sets of squares and attack tables are
//! shakmaty's.

use shakmaty::{
    Bitboard, Castles, CastlingSide, Chess, Color, EnPassantMode, Position as _, Square, attacks,
};

mod legality;
mod play;

pub use legality::Checks;

use super::keys;
use super::types::*;

const SHORT: u8 = 1;
const LONG: u8 = 2;

/// Which man stands where: by kind, by colour and by square.
#[derive(Clone, Copy)]
pub struct Board {
    kinds: [Bitboard; 6],
    colours: [Bitboard; 2],
    squares: [Piece; 64],
}

impl Board {
    pub const EMPTY: Board = Board {
        kinds: [Bitboard::EMPTY; 6],
        colours: [Bitboard::EMPTY; 2],
        squares: [EMPTY; 64],
    };

    pub fn on(&self, square: Square) -> Piece {
        self.squares[at(square)]
    }

    /// Square of `colour`'s king. A legal position always has one.
    pub fn king(&self, colour: Colour) -> Square {
        let king = self.kinds[KING] & self.colours[colour & 1];
        king.first().unwrap_or(Square::A1)
    }

    /// Squares on which another man stands than on the other board, or one on one of them alone.
    pub fn differences(&self, other: &Board) -> Bitboard {
        let kinds = self.kinds.iter().zip(&other.kinds);
        let colours = self.colours.iter().zip(&other.colours);
        let differ = |sets: Bitboard, (a, b): (&Bitboard, &Bitboard)| sets | (*a ^ *b);
        colours.fold(kinds.fold(Bitboard::EMPTY, differ), differ)
    }
}

/// A legal position with side to move, and what the search wants to know at once.
#[derive(Clone, Copy)]
pub struct Position {
    board: Board,
    /// Key of everything that decides which moves are possible from here on.
    pub key: u64,
    /// Key of pawns and kings alone.
    pub pawn_key: u64,
    /// Pieces that give check to the side to move.
    pub checkers: Bitboard,
    /// Pieces of the side to move that must stay on the line to their king.
    pub pinned: Bitboard,
    pub turn: Colour,
    /// Half-moves since the last capture or pawn move.
    pub quiet_plies: u8,
    en_passant: Option<Square>,
    castling: u8,
}

fn colour_name(colour: Colour) -> Color {
    if colour == WHITE {
        Color::White
    } else {
        Color::Black
    }
}

/// Squares attacked by a pawn of `colour`.
pub fn pawn_attacks(colour: Colour, square: Square) -> Bitboard {
    attacks::pawn_attacks(colour_name(colour), square)
}

/// Squares attacked by a piece that is not a pawn.
pub fn piece_attacks(kind: Kind, square: Square, occupied: Bitboard) -> Bitboard {
    match kind {
        KNIGHT => attacks::knight_attacks(square),
        BISHOP => attacks::bishop_attacks(square, occupied),
        ROOK => attacks::rook_attacks(square, occupied),
        QUEEN => attacks::queen_attacks(square, occupied),
        _ => attacks::king_attacks(square),
    }
}

impl Position {
    fn empty(turn: Colour) -> Position {
        Position {
            board: Board::EMPTY,
            key: 0,
            pawn_key: 0,
            checkers: Bitboard::EMPTY,
            pinned: Bitboard::EMPTY,
            turn,
            quiet_plies: 0,
            en_passant: None,
            castling: 0,
        }
    }

    /// Takes over a standard position. Castling rights of Chess960 (king or rook elsewhere) are
    /// refused with `None`.
    pub fn from_chess(chess: &Chess) -> Option<Position> {
        let mut p = Position::empty(if chess.turn().is_white() {
            WHITE
        } else {
            BLACK
        });
        p.quiet_plies = chess.halfmoves().min(200) as u8;
        p.en_passant = chess.ep_square(EnPassantMode::Legal);
        for (square, man) in chess.board().clone() {
            let colour = if man.color.is_white() { WHITE } else { BLACK };
            p.put(piece(colour, kind_from_role(man.role)), square);
        }
        p.castling = rights_of(chess.castles())?;
        p.key ^= keys::CASTLING[usize::from(p.castling & 15)] ^ p.en_passant_key();
        if p.turn == BLACK {
            p.key ^= keys::TURN;
        }
        p.find_checks();
        Some(p)
    }

    /// A board without castling rights; `None` unless each side has one king and no pawn stands on an
    /// outer rank.
    pub fn from_men(men: impl Iterator<Item = (Square, Piece)>, turn: Colour) -> Option<Position> {
        let mut p = Position::empty(turn & 1);
        for (square, man) in men {
            if kind_of(man) > KING || p.on(square) != EMPTY {
                return None;
            }
            p.put(man, square);
        }
        if p.turn == BLACK {
            p.key ^= keys::TURN;
        }
        let lone = |colour| p.men(colour, KING).single_square().is_some();
        let outer = Bitboard(0xff00_0000_0000_00ff);
        if !lone(WHITE) || !lone(BLACK) || (p.board.kinds[PAWN] & outer).any() {
            return None;
        }
        p.find_checks();
        Some(p)
    }

    pub fn board(&self) -> &Board {
        &self.board
    }

    pub fn on(&self, square: Square) -> Piece {
        self.board.on(square)
    }

    pub fn occupied(&self) -> Bitboard {
        self.board.colours[WHITE] | self.board.colours[BLACK]
    }

    pub fn side(&self, colour: Colour) -> Bitboard {
        self.board.colours[colour & 1]
    }

    pub fn kind(&self, kind: Kind) -> Bitboard {
        self.board.kinds[kind]
    }

    pub fn men(&self, colour: Colour, kind: Kind) -> Bitboard {
        self.board.kinds[kind] & self.board.colours[colour & 1]
    }

    /// Square of `colour`'s king. A legal position always has one.
    pub fn king(&self, colour: Colour) -> Square {
        self.board.king(colour)
    }

    pub fn en_passant(&self) -> Option<Square> {
        self.en_passant
    }

    pub fn in_check(&self) -> bool {
        self.checkers.any()
    }

    /// Whether `colour` has anything but pawns and king: without it, passing may be the best move.
    pub fn has_pieces(&self, colour: Colour) -> bool {
        (self.side(colour) & !(self.board.kinds[PAWN] | self.board.kinds[KING])).any()
    }

    /// Neither side can mate by any sequence of moves: bare kings, one minor piece, or bishops on one
    /// colour of squares only (FIDE Laws of Chess, article 5.2.2). Blocked positions are not seen.
    pub fn is_dead(&self) -> bool {
        if (self.board.kinds[PAWN] | self.board.kinds[ROOK] | self.board.kinds[QUEEN]).any() {
            return false;
        }
        let minors = self.board.kinds[KNIGHT] | self.board.kinds[BISHOP];
        let bishops = self.board.kinds[BISHOP];
        !minors.more_than_one()
            || (self.board.kinds[KNIGHT].is_empty()
                && ((bishops & Bitboard::LIGHT_SQUARES).is_empty()
                    || (bishops & Bitboard::DARK_SQUARES).is_empty()))
    }

    /// Pieces of both colours that attack `square` when `occupied` stands on the board.
    pub fn attackers(&self, square: Square, occupied: Bitboard) -> Bitboard {
        let queens = self.board.kinds[QUEEN];
        (pawn_attacks(WHITE, square) & self.men(BLACK, PAWN))
            | (pawn_attacks(BLACK, square) & self.men(WHITE, PAWN))
            | (attacks::knight_attacks(square) & self.board.kinds[KNIGHT])
            | (attacks::king_attacks(square) & self.board.kinds[KING])
            | (attacks::rook_attacks(square, occupied) & (self.board.kinds[ROOK] | queens))
            | (attacks::bishop_attacks(square, occupied) & (self.board.kinds[BISHOP] | queens))
    }

    fn en_passant_key(&self) -> u64 {
        self.en_passant.map_or(0, |s| keys::EN_PASSANT[at(s) & 7])
    }

    fn put(&mut self, man: Piece, square: Square) {
        let (kind, colour) = (kind_of(man), colour_of(man));
        let bit = Bitboard::from_square(square);
        self.board.kinds[kind] |= bit;
        self.board.colours[colour] |= bit;
        self.board.squares[at(square)] = man;
        self.toggle_keys(man, square);
    }

    fn take(&mut self, square: Square) {
        let man = self.on(square);
        let (kind, colour) = (kind_of(man), colour_of(man));
        let bit = Bitboard::from_square(square);
        self.board.kinds[kind] &= !bit;
        self.board.colours[colour] &= !bit;
        self.board.squares[at(square)] = EMPTY;
        self.toggle_keys(man, square);
    }

    fn toggle_keys(&mut self, man: Piece, square: Square) {
        let key = keys::PIECES[usize::from(man & 15)][at(square)];
        self.key ^= key;
        if matches!(kind_of(man), PAWN | KING) {
            self.pawn_key ^= key;
        }
    }

    fn find_checks(&mut self) {
        let us = self.turn;
        let king = self.king(us);
        let enemy = self.side(us ^ 1);
        self.checkers = enemy
            & ((pawn_attacks(us, king) & self.board.kinds[PAWN])
                | (attacks::knight_attacks(king) & self.board.kinds[KNIGHT]));
        self.pinned = Bitboard::EMPTY;
        let occupied = self.occupied();
        for slider in self.sliders_towards(king) & enemy {
            let way = attacks::between(king, slider) & occupied;
            if way.is_empty() {
                self.checkers |= Bitboard::from_square(slider);
            } else if !way.more_than_one() {
                self.pinned |= way & self.side(us);
            }
        }
    }

    /// Sliding pieces that would attack `square` on an empty board.
    fn sliders_towards(&self, square: Square) -> Bitboard {
        let none = Bitboard::EMPTY;
        let queens = self.board.kinds[QUEEN];
        (attacks::rook_attacks(square, none) & (self.board.kinds[ROOK] | queens))
            | (attacks::bishop_attacks(square, none) & (self.board.kinds[BISHOP] | queens))
    }
}

/// Standard rights as bits; `None` if a right belongs to a rook or king that stands elsewhere.
fn rights_of(castles: &Castles) -> Option<u8> {
    let mut rights = 0;
    for (colour, home) in [(Color::White, 0), (Color::Black, 56)] {
        for (side, file, bit) in [
            (CastlingSide::KingSide, 7, SHORT),
            (CastlingSide::QueenSide, 0, LONG),
        ] {
            if let Some(rook) = castles.rook(colour, side) {
                if at(rook) != home + file {
                    return None;
                }
                rights |= if home == 0 { bit } else { bit << 2 };
            }
        }
    }
    Some(rights)
}
