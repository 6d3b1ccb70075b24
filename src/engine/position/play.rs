//! The position after a move.

use shakmaty::Square;

use super::{LONG, Position, SHORT, pawn_attacks};
use crate::engine::keys;
use crate::engine::types::*;

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
}
