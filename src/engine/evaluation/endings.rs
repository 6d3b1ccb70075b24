//! Endings whose outcome or whose plan is known: a bare king against mating material, king and pawn
//! against king.
//!
//! The plans (drive the king to the edge; with bishop and knight to a corner of the bishop's colour)
//! are textbook knowledge.

use shakmaty::{Bitboard, Square};

use super::pawn_ending;
use crate::engine::position::Position;
use crate::engine::types::*;

/// Added to what stands on the board when it must win.
const WON: i32 = 900;

/// Value for White if the ending is known.
pub fn known(p: &Position) -> Option<i32> {
    let weak = if p.side(BLACK).single_square().is_some() {
        BLACK
    } else if p.side(WHITE).single_square().is_some() {
        WHITE
    } else {
        return None;
    };
    let strong = weak ^ 1;
    let sign = if strong == WHITE { 1 } else { -1 };
    if p.occupied().count() == 3 && p.kind(PAWN).any() {
        return Some(sign * one_pawn(p, strong));
    }
    // Two knights, or bishops on one colour, cannot force mate.
    if !mates(p, strong) && p.kind(PAWN).is_empty() && p.kind(KNIGHT).count() <= 2 {
        return Some(0);
    }
    mates(p, strong).then(|| sign * drive(p, strong))
}

/// Pieces that force mate on a bare king: queen, rook, both bishops, bishop and knight.
fn mates(p: &Position, strong: Colour) -> bool {
    let bishops = p.men(strong, BISHOP);
    let both =
        (bishops & Bitboard::LIGHT_SQUARES).any() && (bishops & Bitboard::DARK_SQUARES).any();
    let pair = bishops.any() && p.men(strong, KNIGHT).any();
    (p.men(strong, QUEEN) | p.men(strong, ROOK)).any() || both || pair
}

fn worth(p: &Position, colour: Colour) -> i32 {
    let value = |kind, v| p.men(colour, kind).count() as i32 * v;
    value(PAWN, 100)
        + value(KNIGHT, 300)
        + value(BISHOP, 320)
        + value(ROOK, 550)
        + value(QUEEN, 1000)
}

/// Won: the nearer the lone king to the edge (or right corner) and the kings together, the better.
fn drive(p: &Position, strong: Colour) -> i32 {
    let (hunter, prey) = (p.king(strong), p.king(strong ^ 1));
    let near = 7 - hunter.distance(prey) as i32;
    let light = (p.men(strong, BISHOP) & Bitboard::LIGHT_SQUARES).any();
    let straight = (p.men(strong, QUEEN) | p.men(strong, ROOK) | p.men(strong, PAWN)).any();
    let bishops = p.men(strong, BISHOP).count();
    let cornered = if !straight && bishops == 1 && p.men(strong, KNIGHT).any() {
        let corners = if light {
            [Square::A8, Square::H1]
        } else {
            [Square::A1, Square::H8]
        };
        let steps = corners
            .map(|c| walk(c, prey))
            .into_iter()
            .min()
            .unwrap_or(0);
        40 * (7 - steps).max(0)
    } else {
        0
    };
    worth(p, strong) + WON + 12 * to_edge(prey) + cornered + 10 * near
}

/// Steps of a rook's walk between squares, halved: distance along the long diagonal counts whole.
fn walk(a: Square, b: Square) -> i32 {
    let file = (at(a) & 7).abs_diff(at(b) & 7);
    let rank = (at(a) >> 3).abs_diff(at(b) >> 3);
    (file + rank) as i32 / 2 + (file.abs_diff(rank) as i32) / 4
}

/// 0 in the middle of the board to 6 in a corner.
pub(super) fn to_edge(square: Square) -> i32 {
    let (file, rank) = (at(square) as i32 & 7, at(square) as i32 >> 3);
    let off = |x: i32| (3 - x).max(x - 4);
    off(file) + off(rank)
}

fn one_pawn(p: &Position, strong: Colour) -> i32 {
    if !pawn_ending::wins(p, strong) {
        return 0;
    }
    let rank = p
        .men(strong, PAWN)
        .first()
        .map_or(0, |s| relative_rank(strong, s)) as i32;
    WON + 100 + 20 * rank
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_draw_the_king_with_bishop_and_knight() {
        assert_eq!(walk(Square::A8, Square::A8), 0);
        assert!(walk(Square::A8, Square::D5) < walk(Square::A8, Square::H8));
        assert_eq!((to_edge(Square::A1), to_edge(Square::E4)), (6, 0));
    }
}
