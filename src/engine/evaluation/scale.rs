//! How much of an endgame advantage counts: some material cannot win whatever its sum says.

use shakmaty::Bitboard;

use crate::engine::position::Position;
use crate::engine::types::*;

/// All of it.
pub const FULL: i32 = 64;

/// Share of the endgame value, in 64ths, for the side that it favours.
pub fn of(p: &Position, end: i32) -> i32 {
    let strong = if end > 0 { WHITE } else { BLACK };
    let pawns = p.men(strong, PAWN).count() as i32;
    let weak = strong ^ 1;
    if pawns == 0 {
        let ahead = worth(p, strong) - worth(p, weak);
        // Without pawns, a rook's worth of surplus at the least is needed to mate.
        if ahead <= 3 {
            return if worth(p, strong) < 5 { 0 } else { 8 };
        }
    }
    if pawns != 0 && cornered(p, strong) {
        return 0;
    }
    if opposite_bishops(p) {
        let others = p.kind(KNIGHT) | p.kind(ROOK) | p.kind(QUEEN);
        return if others.is_empty() {
            (16 + 6 * pawns).min(FULL)
        } else {
            (40 + 3 * pawns).min(FULL)
        };
    }
    (44 + 5 * pawns).min(FULL)
}

/// Only rook's pawns of one file, at most with bishops that do not cover the corner, and the other
/// king holds that corner (textbook draw).
fn cornered(p: &Position, strong: Colour) -> bool {
    let pawns = p.men(strong, PAWN);
    let (a, h) = (
        Bitboard(0x0101_0101_0101_0101),
        Bitboard(0x8080_8080_8080_8080),
    );
    let file = if (pawns & !a).is_empty() {
        0
    } else if (pawns & !h).is_empty() {
        7
    } else {
        return false;
    };
    let corner = square(file + if strong == WHITE { 56 } else { 0 });
    let shade = if corner.is_light() {
        Bitboard::LIGHT_SQUARES
    } else {
        Bitboard::DARK_SQUARES
    };
    let helpers = p.side(strong) & !p.kind(PAWN) & !p.kind(KING) & !(p.kind(BISHOP) & !shade);
    helpers.is_empty() && p.king(strong ^ 1).distance(corner) <= 1
}

/// Pieces counted 3, 3, 5, 9.
fn worth(p: &Position, colour: Colour) -> i32 {
    let count = |kind| p.men(colour, kind).count() as i32;
    3 * (count(KNIGHT) + count(BISHOP)) + 5 * count(ROOK) + 9 * count(QUEEN)
}

fn opposite_bishops(p: &Position) -> bool {
    let bishops = p.kind(BISHOP);
    let lone = |colour| p.men(colour, BISHOP).single_square().is_some();
    lone(WHITE)
        && lone(BLACK)
        && (bishops & Bitboard::LIGHT_SQUARES)
            .single_square()
            .is_some()
}
