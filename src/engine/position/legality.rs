//! Which moves are possible in a position, and which of them give check.

use shakmaty::{Bitboard, CastlingSide, Square, attacks};

use super::{LONG, Position, SHORT, pawn_attacks, piece_attacks};
use crate::engine::types::*;

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

impl Position {
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
    #[inline(always)]
    pub fn is_legal(&self, m: Move) -> bool {
        let king = self.king(self.turn);
        let from = m.from();
        if from == king || m.is_en_passant() {
            return self.is_legal_seldom(m);
        }
        !self.pinned.contains(from) || attacks::aligned(from, m.to(), king)
    }

    /// The same of what kings do and of captures en passant.
    #[inline(never)]
    fn is_legal_seldom(&self, m: Move) -> bool {
        let us = self.turn;
        let king = self.king(us);
        let (from, to) = (m.from(), m.to());
        if m.is_en_passant() {
            let gone = Bitboard::from_square(square(at(to) ^ 8));
            let occupied = (self.occupied() & !gone & !Bitboard::from_square(from))
                | Bitboard::from_square(to);
            return (self.attackers(king, occupied) & self.side(us ^ 1) & !gone).is_empty();
        }
        let occupied = self.occupied() & !Bitboard::from_square(from);
        m.is_castle() || (self.attackers(to, occupied) & self.side(us ^ 1)).is_empty()
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
