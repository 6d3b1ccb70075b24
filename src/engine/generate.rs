//! Move generation in two halves, so that a cut-off by a capture never pays for quiet moves.
//!
//! Moves are pseudo-legal: a pinned piece may leave its line and a king may step into an attack;
//! `Position::is_legal` tells. In check only answers are generated.

use shakmaty::{Bitboard, Square};

use super::moves::Moves;
use super::position::{Checks, Position, pawn_attacks, piece_attacks};
use super::types::*;

const SEVENTH: [Bitboard; 2] = [
    Bitboard(0x00ff_0000_0000_0000),
    Bitboard(0x0000_0000_0000_ff00),
];
const THIRD: [Bitboard; 2] = [
    Bitboard(0x0000_0000_00ff_0000),
    Bitboard(0x0000_ff00_0000_0000),
];

fn push(out: &mut Moves, from: Square, to: Square, tag: u16) {
    out.push(Move::new(from, to, tag));
}

fn push_promotions(out: &mut Moves, from: Square, to: Square, capture: u16) {
    for kind in [3, 0, 2, 1] {
        push(out, from, to, tag::PROMOTION | capture | kind);
    }
}

/// One step forward for every square of the set.
pub fn forward(colour: Colour, set: Bitboard) -> Bitboard {
    if colour == WHITE {
        Bitboard(set.0 << 8)
    } else {
        Bitboard(set.0 >> 8)
    }
}

/// The square one step behind `square`, seen from `colour`.
fn behind(colour: Colour, to: Square, steps: usize) -> Square {
    square(if colour == WHITE {
        at(to).wrapping_sub(8 * steps)
    } else {
        at(to) + 8 * steps
    })
}

/// All captures and all promotions.
pub fn noisy(p: &Position, out: &mut Moves) {
    let us = p.turn;
    let enemy = p.side(us ^ 1);
    let arrival = p.arrival();
    pawn_captures(p, enemy & arrival, out);
    let promoting = forward(us, p.men(us, PAWN) & SEVENTH[us]) & !p.occupied() & arrival;
    for to in promoting {
        push_promotions(out, behind(us, to, 1), to, 0);
    }
    pieces(p, enemy & arrival, tag::CAPTURE, out);
    king(p, enemy, tag::CAPTURE, out);
}

/// All moves that neither capture nor promote.
pub fn quiet(p: &Position, out: &mut Moves) {
    let us = p.turn;
    let free = !p.occupied();
    let arrival = p.arrival();
    let single = forward(us, p.men(us, PAWN) & !SEVENTH[us]) & free;
    for to in single & arrival {
        push(out, behind(us, to, 1), to, tag::QUIET);
    }
    for to in forward(us, single & THIRD[us]) & free & arrival {
        push(out, behind(us, to, 2), to, tag::DOUBLE);
    }
    pieces(p, free & arrival, tag::QUIET, out);
    king(p, free, tag::QUIET, out);
    let home = 56 * us;
    for (short, to, tag) in [(true, 6, tag::CASTLE_SHORT), (false, 2, tag::CASTLE_LONG)] {
        if p.can_castle(us, short) {
            push(out, square(home + 4), square(home + to), tag);
        }
    }
}

fn pawn_captures(p: &Position, targets: Bitboard, out: &mut Moves) {
    let us = p.turn;
    for from in p.men(us, PAWN) & SEVENTH[us] {
        for to in pawn_attacks(us, from) & targets {
            push_promotions(out, from, to, tag::CAPTURE);
        }
    }
    for from in p.men(us, PAWN) & !SEVENTH[us] {
        for to in pawn_attacks(us, from) & targets {
            push(out, from, to, tag::CAPTURE);
        }
    }
    // Whether it answers a check is left to `is_legal`, which looks at the resulting lines.
    if let Some(to) = p.en_passant() {
        for from in pawn_attacks(us ^ 1, to) & p.men(us, PAWN) {
            push(out, from, to, tag::EN_PASSANT);
        }
    }
}

fn pieces(p: &Position, targets: Bitboard, tag: u16, out: &mut Moves) {
    let occupied = p.occupied();
    for kind in [KNIGHT, BISHOP, ROOK, QUEEN] {
        for from in p.men(p.turn, kind) {
            for to in piece_attacks(kind, from, occupied) & targets {
                push(out, from, to, tag);
            }
        }
    }
}

fn king(p: &Position, targets: Bitboard, tag: u16, out: &mut Moves) {
    let from = p.king(p.turn);
    for to in piece_attacks(KING, from, Bitboard::EMPTY) & targets {
        push(out, from, to, tag);
    }
}

/// Quiet moves that give check, but for castling and double steps.
pub fn quiet_checks(p: &Position, checks: &Checks, out: &mut Moves) {
    let us = p.turn;
    let occupied = p.occupied();
    let free = !occupied;
    for kind in [KNIGHT, BISHOP, ROOK, QUEEN, KING] {
        for from in p.men(us, kind) {
            let reach = piece_attacks(kind, from, occupied) & free;
            for to in reach & checks.places(kind, from) {
                push(out, from, to, tag::QUIET);
            }
        }
    }
    let single = forward(us, p.men(us, PAWN) & !SEVENTH[us]) & free;
    for to in single {
        let from = behind(us, to, 1);
        if checks.places(PAWN, from).contains(to) {
            push(out, from, to, tag::QUIET);
        }
    }
}

/// All legal moves, appended to `out`.
pub fn legal(p: &Position, out: &mut Moves) {
    let start = out.len();
    noisy(p, out);
    quiet(p, out);
    out.retain(start, |m| p.is_legal(m));
}

/// Whether the side to move has a legal move.
pub fn any_legal(p: &Position) -> bool {
    let mut moves = Moves::default();
    legal(p, &mut moves);
    moves.len() > 0
}
