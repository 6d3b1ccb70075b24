//! The engine's own board: sets of squares per kind and colour, with keys and sums kept up to date.
//!
//! A move makes a new value (`after`), nothing is taken back. Copying some two hundred bytes costs
//! less than undoing, and no state can be left half restored. Sets of squares and attack tables are
//! shakmaty's.

use shakmaty::{
    Bitboard, Castles, CastlingSide, Chess, Color, EnPassantMode, Position as _, Square, attacks,
};

use super::evaluation::PIECE_SQUARE;
use super::keys;
use super::types::*;

const SHORT: u8 = 1;
const LONG: u8 = 2;

/// A legal position with side to move, and what the search wants to know at once.
#[derive(Clone, Copy)]
pub struct Position {
    kinds: [Bitboard; 6],
    colours: [Bitboard; 2],
    squares: [Piece; 64],
    /// Key of everything that decides which moves are possible from here on.
    pub key: u64,
    /// Key of pawns and kings alone.
    pub pawn_key: u64,
    /// Material and square values, White minus Black.
    pub sum: Score,
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

/// What tells whether a move gives check, worked out once for all moves of a position.
pub struct Checks {
    squares: [Bitboard; 6],
    /// Own pieces whose leaving opens a line on the enemy king.
    covers: Bitboard,
    king: Square,
}

impl Checks {
    /// Squares where a piece of the kind gives check when it goes there from `from`.
    pub fn places(&self, kind: Kind, from: Square) -> Bitboard {
        let direct = self.squares[kind];
        if self.covers.contains(from) {
            direct | !attacks::ray(self.king, from)
        } else {
            direct
        }
    }
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

/// Rights that end when a piece leaves or enters the square.
fn rights_through(square: Square) -> u8 {
    match square {
        Square::A1 => LONG,
        Square::E1 => SHORT | LONG,
        Square::H1 => SHORT,
        Square::A8 => LONG << 2,
        Square::E8 => (SHORT | LONG) << 2,
        Square::H8 => SHORT << 2,
        _ => 0,
    }
}

impl Position {
    fn empty(turn: Colour) -> Position {
        Position {
            kinds: [Bitboard::EMPTY; 6],
            colours: [Bitboard::EMPTY; 2],
            squares: [EMPTY; 64],
            key: 0,
            pawn_key: 0,
            sum: Score::ZERO,
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
        if !lone(WHITE) || !lone(BLACK) || (p.kinds[PAWN] & outer).any() {
            return None;
        }
        p.find_checks();
        Some(p)
    }

    pub fn on(&self, square: Square) -> Piece {
        self.squares[at(square)]
    }

    pub fn occupied(&self) -> Bitboard {
        self.colours[WHITE] | self.colours[BLACK]
    }

    pub fn side(&self, colour: Colour) -> Bitboard {
        self.colours[colour & 1]
    }

    pub fn kind(&self, kind: Kind) -> Bitboard {
        self.kinds[kind]
    }

    pub fn men(&self, colour: Colour, kind: Kind) -> Bitboard {
        self.kinds[kind] & self.colours[colour & 1]
    }

    /// Square of `colour`'s king. A legal position always has one.
    pub fn king(&self, colour: Colour) -> Square {
        self.men(colour, KING).first().unwrap_or(Square::A1)
    }

    pub fn en_passant(&self) -> Option<Square> {
        self.en_passant
    }

    pub fn in_check(&self) -> bool {
        self.checkers.any()
    }

    /// Whether `colour` has anything but pawns and king: without it, passing may be the best move.
    pub fn has_pieces(&self, colour: Colour) -> bool {
        (self.side(colour) & !(self.kinds[PAWN] | self.kinds[KING])).any()
    }

    /// Neither side can mate by any sequence of moves: bare kings, one minor piece, or bishops on one
    /// colour of squares only (FIDE Laws of Chess, article 5.2.2). Blocked positions are not seen.
    pub fn is_dead(&self) -> bool {
        if (self.kinds[PAWN] | self.kinds[ROOK] | self.kinds[QUEEN]).any() {
            return false;
        }
        let minors = self.kinds[KNIGHT] | self.kinds[BISHOP];
        let bishops = self.kinds[BISHOP];
        !minors.more_than_one()
            || (self.kinds[KNIGHT].is_empty()
                && ((bishops & Bitboard::LIGHT_SQUARES).is_empty()
                    || (bishops & Bitboard::DARK_SQUARES).is_empty()))
    }

    /// Pieces of both colours that attack `square` when `occupied` stands on the board.
    pub fn attackers(&self, square: Square, occupied: Bitboard) -> Bitboard {
        let queens = self.kinds[QUEEN];
        (pawn_attacks(WHITE, square) & self.men(BLACK, PAWN))
            | (pawn_attacks(BLACK, square) & self.men(WHITE, PAWN))
            | (attacks::knight_attacks(square) & self.kinds[KNIGHT])
            | (attacks::king_attacks(square) & self.kinds[KING])
            | (attacks::rook_attacks(square, occupied) & (self.kinds[ROOK] | queens))
            | (attacks::bishop_attacks(square, occupied) & (self.kinds[BISHOP] | queens))
    }

    /// Whether `colour` may castle on the side now: right, free way, no attacked square (FIDE Laws
    /// of Chess, article 3.8.2).
    pub fn can_castle(&self, colour: Colour, short: bool) -> bool {
        let right = if short { SHORT } else { LONG } << (2 * colour);
        if self.castling & right == 0 || self.in_check() {
            return false;
        }
        let home = 56 * colour;
        let (free, safe): (&[usize], &[usize]) = if short {
            (&[5, 6], &[5, 6])
        } else {
            (&[1, 2, 3], &[2, 3])
        };
        let occupied = self.occupied();
        let enemy = self.side(colour ^ 1);
        free.iter().all(|&f| !occupied.contains(square(home + f)))
            && safe
                .iter()
                .all(|&f| (self.attackers(square(home + f), occupied) & enemy).is_empty())
    }

    /// The piece a move takes, [`EMPTY`] if none.
    pub fn taken(&self, m: Move) -> Piece {
        if m.is_en_passant() {
            piece(self.turn ^ 1, PAWN)
        } else {
            self.on(m.to())
        }
    }

    /// Key of the position after a move, right but for castling, promotion and en passant: enough to
    /// look ahead in a table.
    pub fn key_after(&self, m: Move) -> u64 {
        let man = usize::from(self.on(m.from()) & 15);
        let (from, to) = (at(m.from()), at(m.to()));
        let taken = usize::from(self.on(m.to()) & 15);
        let lost = if taken == usize::from(EMPTY) {
            0
        } else {
            keys::PIECES[taken][to]
        };
        self.key
            ^ keys::TURN
            ^ keys::PIECES[man][from]
            ^ keys::PIECES[man][to]
            ^ lost
            ^ self.en_passant_key()
    }

    /// The position after a legal move.
    pub fn after(&self, m: Move) -> Position {
        let mut p = *self;
        let us = self.turn;
        let (from, to) = (m.from(), m.to());
        let man = self.on(from);
        p.quiet_plies = self.quiet_plies.saturating_add(1);
        p.key ^= keys::TURN ^ self.en_passant_key();
        p.en_passant = None;
        if m.is_capture() {
            let target = if m.is_en_passant() {
                square(at(to) ^ 8)
            } else {
                to
            };
            p.take(target);
            p.quiet_plies = 0;
        }
        p.take(from);
        p.put(
            if m.is_promotion() {
                piece(us, m.promoted())
            } else {
                man
            },
            to,
        );
        if kind_of(man) == PAWN {
            p.quiet_plies = 0;
        } else if m.is_castle() {
            p.move_rook(us, m.tag() == tag::CASTLE_SHORT);
        }
        p.drop_rights(rights_through(from) | rights_through(to));
        p.turn = us ^ 1;
        p.find_checks();
        if m.tag() == tag::DOUBLE {
            p.offer_en_passant(square(at(to) ^ 8));
        }
        p
    }

    /// The position after passing. Only when not in check.
    pub fn after_null(&self) -> Position {
        let mut p = *self;
        p.key ^= keys::TURN ^ self.en_passant_key();
        p.en_passant = None;
        p.quiet_plies = self.quiet_plies.saturating_add(1);
        p.turn ^= 1;
        p.find_checks();
        p
    }

    fn move_rook(&mut self, colour: Colour, short: bool) {
        let home = 56 * colour;
        let (from, to) = if short { (7, 5) } else { (0, 3) };
        self.take(square(home + from));
        self.put(piece(colour, ROOK), square(home + to));
    }

    fn drop_rights(&mut self, lost: u8) {
        let left = self.castling & !lost;
        if left != self.castling {
            self.key ^= keys::CASTLING[usize::from(self.castling & 15)]
                ^ keys::CASTLING[usize::from(left & 15)];
            self.castling = left;
        }
    }

    /// Notes the en passant square only if a capture there is legal: positions that differ only in a
    /// useless square count as the same (FIDE Laws of Chess, article 9.2.3).
    fn offer_en_passant(&mut self, target: Square) {
        let pawns = pawn_attacks(self.turn ^ 1, target) & self.men(self.turn, PAWN);
        if pawns.is_empty() {
            return;
        }
        self.en_passant = Some(target);
        let usable = pawns
            .into_iter()
            .any(|from| self.is_legal(Move::new(from, target, tag::EN_PASSANT)));
        if !usable {
            self.en_passant = None;
        }
        self.key ^= self.en_passant_key();
    }

    fn en_passant_key(&self) -> u64 {
        self.en_passant.map_or(0, |s| keys::EN_PASSANT[at(s) & 7])
    }

    fn put(&mut self, man: Piece, square: Square) {
        let (kind, colour) = (kind_of(man), colour_of(man));
        let bit = Bitboard::from_square(square);
        self.kinds[kind] |= bit;
        self.colours[colour] |= bit;
        self.squares[at(square)] = man;
        self.toggle_keys(man, square);
        self.sum += PIECE_SQUARE[usize::from(man & 15)][at(square)];
    }

    fn take(&mut self, square: Square) {
        let man = self.on(square);
        let (kind, colour) = (kind_of(man), colour_of(man));
        let bit = Bitboard::from_square(square);
        self.kinds[kind] &= !bit;
        self.colours[colour] &= !bit;
        self.squares[at(square)] = EMPTY;
        self.toggle_keys(man, square);
        self.sum -= PIECE_SQUARE[usize::from(man & 15)][at(square)];
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
            & ((pawn_attacks(us, king) & self.kinds[PAWN])
                | (attacks::knight_attacks(king) & self.kinds[KNIGHT]));
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
        let queens = self.kinds[QUEEN];
        (attacks::rook_attacks(square, none) & (self.kinds[ROOK] | queens))
            | (attacks::bishop_attacks(square, none) & (self.kinds[BISHOP] | queens))
    }

    /// Where each kind gives check from, and which own pieces cover a line on the enemy king.
    pub fn checks(&self) -> Checks {
        let us = self.turn;
        let king = self.king(us ^ 1);
        let occupied = self.occupied();
        let (bishop, rook) = (
            attacks::bishop_attacks(king, occupied),
            attacks::rook_attacks(king, occupied),
        );
        let squares = [
            pawn_attacks(us ^ 1, king),
            attacks::knight_attacks(king),
            bishop,
            rook,
            bishop | rook,
            Bitboard::EMPTY,
        ];
        let mut covers = Bitboard::EMPTY;
        for slider in self.sliders_towards(king) & self.side(us) {
            let way = attacks::between(king, slider) & occupied;
            if !way.more_than_one() {
                covers |= way & self.side(us);
            }
        }
        Checks {
            squares,
            covers,
            king,
        }
    }

    /// Whether a pseudo-legal move opens a line on the enemy king: the piece that moved cannot be taken
    /// before that check is answered.
    pub fn uncovers(&self, m: Move, checks: &Checks) -> bool {
        checks.covers.contains(m.from()) && !attacks::aligned(m.from(), m.to(), checks.king)
    }

    /// Whether a pseudo-legal move gives check.
    pub fn gives_check(&self, m: Move, checks: &Checks) -> bool {
        let (from, to) = (m.from(), m.to());
        let kind = if m.is_promotion() {
            m.promoted()
        } else {
            kind_of(self.on(from))
        };
        if checks.squares[kind % 6].contains(to) && !m.is_promotion() {
            return true;
        }
        if self.uncovers(m, checks) {
            return true;
        }
        // Rare moves change more than two squares: look at the result.
        (m.is_promotion() || m.is_castle() || m.is_en_passant()) && self.after(m).in_check()
    }

    /// Whether a pseudo-legal move (also one that answers a check) leaves the own king safe.
    pub fn is_legal(&self, m: Move) -> bool {
        let us = self.turn;
        let king = self.king(us);
        let (from, to) = (m.from(), m.to());
        if m.is_en_passant() {
            let gone = Bitboard::from_square(square(at(to) ^ 8));
            let occupied = (self.occupied() & !gone & !Bitboard::from_square(from))
                | Bitboard::from_square(to);
            return (self.attackers(king, occupied) & self.side(us ^ 1) & !gone).is_empty();
        }
        if from == king {
            let occupied = self.occupied() & !Bitboard::from_square(from);
            return m.is_castle() || (self.attackers(to, occupied) & self.side(us ^ 1)).is_empty();
        }
        !self.pinned.contains(from) || attacks::aligned(from, to, king)
    }

    /// Squares where a man other than the king may arrive: everywhere, or what ends the check.
    pub fn arrival(&self) -> Bitboard {
        if self.checkers.is_empty() {
            Bitboard::FULL
        } else if let Some(checker) = self.checkers.single_square() {
            attacks::between(self.king(self.turn), checker) | self.checkers
        } else {
            Bitboard::EMPTY
        }
    }

    /// Whether a move, from a table or another position, is one that the generator would give here.
    pub fn is_pseudo_legal(&self, m: Move) -> bool {
        let us = self.turn;
        let (from, to, man) = (m.from(), m.to(), self.on(m.from()));
        if m.is_none() || man == EMPTY || colour_of(man) != us || self.side(us).contains(to) {
            return false;
        }
        if m.is_castle() {
            let home = 56 * us;
            let short = m.tag() == tag::CASTLE_SHORT;
            return at(from) == home + 4
                && at(to) == home + if short { 6 } else { 2 }
                && kind_of(man) == KING
                && self.can_castle(us, short);
        }
        if m.is_en_passant() {
            return kind_of(man) == PAWN
                && self.en_passant == Some(to)
                && pawn_attacks(us, from).contains(to);
        }
        if m.is_capture() != self.side(us ^ 1).contains(to) {
            return false;
        }
        let reaches = if kind_of(man) == PAWN {
            self.pawn_reaches(m)
        } else {
            m.tag() & !tag::CAPTURE == 0
                && piece_attacks(kind_of(man), from, self.occupied()).contains(to)
        };
        reaches && (kind_of(man) == KING || self.arrival().contains(to))
    }

    fn pawn_reaches(&self, m: Move) -> bool {
        let us = self.turn;
        let (from, to) = (m.from(), m.to());
        if m.is_promotion() != (relative_rank(us, to) == 7) {
            return false;
        }
        if m.is_capture() {
            return (m.is_promotion() || m.tag() == tag::CAPTURE)
                && pawn_attacks(us, from).contains(to);
        }
        let step = if us == WHITE {
            at(from) + 8
        } else {
            at(from).wrapping_sub(8)
        };
        if m.tag() == tag::DOUBLE {
            let second = if us == WHITE {
                at(from) + 16
            } else {
                at(from).wrapping_sub(16)
            };
            return relative_rank(us, from) == 1
                && second == at(to)
                && !self.occupied().contains(square(step))
                && !self.occupied().contains(to);
        }
        (m.is_promotion() || m.tag() == tag::QUIET)
            && step == at(to)
            && !self.occupied().contains(to)
    }

    /// The move in packed form, if it is legal here.
    pub fn pack(&self, m: &shakmaty::Move) -> Option<Move> {
        let from = m.from()?;
        let promotion = m
            .promotion()
            .map_or(0, |role| kind_from_role(role) as u16 - 1);
        let packed = match m {
            shakmaty::Move::Castle { .. } => {
                let short = m.castling_side() == Some(CastlingSide::KingSide);
                let to = square((at(from) & 56) + if short { 6 } else { 2 });
                Move::new(
                    from,
                    to,
                    if short {
                        tag::CASTLE_SHORT
                    } else {
                        tag::CASTLE_LONG
                    },
                )
            }
            shakmaty::Move::EnPassant { to, .. } => Move::new(from, *to, tag::EN_PASSANT),
            _ => {
                let to = m.to();
                let mut tag = if m.is_capture() {
                    tag::CAPTURE
                } else {
                    tag::QUIET
                };
                if m.is_promotion() {
                    tag |= tag::PROMOTION | promotion;
                } else if kind_of(self.on(from)) == PAWN && at(from).abs_diff(at(to)) == 16 {
                    tag = tag::DOUBLE;
                }
                Move::new(from, to, tag)
            }
        };
        (self.is_pseudo_legal(packed) && self.is_legal(packed)).then_some(packed)
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
