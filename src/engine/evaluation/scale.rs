//! How much of an advantage counts: some material cannot win whatever its value says.

use shakmaty::Bitboard;

use super::endings::to_edge;
use crate::engine::position::Position;
use crate::engine::types::*;

/// All of it.
pub const FULL: i32 = 64;
/// What is left to material that wins by an error alone.
const LITTLE: i32 = 8;
/// What is left of a pawn more in a rook ending that is held.
const HELD: i32 = 16;

/// Share of an endgame advantage of this side, in 64ths.
pub fn of(p: &Position, strong: Colour) -> i32 {
    if p.men(strong, PAWN).is_empty() {
        // Without pawns, a rook's worth of surplus at the least is needed to mate.
        if worth(p, strong) > worth(p, strong ^ 1) + 3 {
            FULL
        } else if worth(p, strong) < 5 {
            0
        } else {
            LITTLE
        }
    } else if cornered(p, strong) {
        0
    } else if held(p, strong) {
        HELD
    } else {
        FULL
    }
}

/// Rook and pawn against rook, the pawn not beyond its fifth rank and the other king before its square of promotion
/// or beside it: the defence on the third rank (P. Philidor, "L'analyse des échecs", 1777, from memory).
fn held(p: &Position, strong: Colour) -> bool {
    let lone = |colour| p.men(colour, ROOK).single_square().is_some();
    if p.occupied().count() != 5 || !lone(strong) || !lone(strong ^ 1) {
        return false;
    }
    let Some(pawn) = p.men(strong, PAWN).single_square() else {
        return false;
    };
    let promotion = square(at(pawn) % 8 + if strong == WHITE { 56 } else { 0 });
    relative_rank(strong, pawn) <= 4 && p.king(strong ^ 1).distance(promotion) <= 1
}

/// Little is no plan: without pawns the stronger side drives the king to the edge, where errors happen, and the other
/// keeps him from it.
pub fn pressure(p: &Position, strong: Colour) -> i32 {
    let weak = strong ^ 1;
    if p.kind(PAWN).any() || worth(p, strong) <= worth(p, weak) {
        return 0;
    }
    let (hunter, prey) = (p.king(strong), p.king(weak));
    5 * to_edge(prey) + 2 * (7 - hunter.distance(prey) as i32)
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
