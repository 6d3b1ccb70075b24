//! Endings whose outcome or whose plan is known: a bare king against mating material, king and pawn
//! against king.
//!
//! The plans (drive the king to the edge; with bishop and knight to a corner of the bishop's colour)
//! are textbook knowledge.

use shakmaty::{Bitboard, File, Rank, Square};

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
        return queen_against_pawn(p).then_some(0);
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

/// How far the strong king must be from the square of promotion for the draw to be one: nearer, it is sometimes in time.
const TOO_FAR: u32 = 5;

/// Queen against a pawn that is about to promote, held by stalemate: a rook's or bishop's pawn with its king beside it, the other
/// king far away, the queen not before the pawn (textbook; G. Lolli, 'Osservazioni', 1763, from memory). What is won all the
/// same, by a check that gains the square of promotion, a search of a few moves sees.
fn queen_against_pawn(p: &Position) -> bool {
    if p.occupied().count() != 4 {
        return false;
    }
    let (Some(queen), Some(pawn)) = (p.kind(QUEEN).single_square(), p.kind(PAWN).single_square())
    else {
        return false;
    };
    let strong = if p.side(WHITE).contains(queen) {
        WHITE
    } else {
        BLACK
    };
    let weak = strong ^ 1;
    let draws = [File::A, File::C, File::F, File::H].contains(&pawn.file());
    if !p.side(weak).contains(pawn) || relative_rank(weak, pawn) != 6 || !draws {
        return false;
    }
    let last = if weak == WHITE {
        Rank::Eighth
    } else {
        Rank::First
    };
    let promotion = Square::from_coords(pawn.file(), last);
    let beside = p.king(weak).distance(pawn) == 1;
    beside && queen != promotion && p.king(strong).distance(promotion) >= TOO_FAR
}

#[cfg(test)]
mod tests {
    use super::*;
    use shakmaty::{CastlingMode, Chess, fen::Fen};

    fn known_of(fen: &str) -> Option<i32> {
        let chess: Chess = fen
            .parse::<Fen>()
            .unwrap()
            .into_position(CastlingMode::Standard)
            .unwrap();
        known(&Position::from_chess(&chess).unwrap())
    }

    #[test]
    fn a_pawn_on_the_seventh_holds_against_the_queen_on_four_files_only() {
        assert_eq!(known_of("6K1/8/8/8/8/3Q4/2p5/1k6 w - - 0 1"), Some(0));
        assert_eq!(known_of("1K6/P7/2q5/8/8/8/8/7k b - - 0 1"), Some(0));
        // A knight's or centre pawn, a king that is near, a queen before the pawn, a pawn on the sixth.
        for fen in [
            "6K1/8/8/8/8/3Q4/1p6/k7 w - - 0 1",
            "6K1/8/8/8/8/2Q5/3p4/4k3 w - - 0 1",
            "8/8/8/8/3K4/3Q4/2p5/1k6 w - - 0 1",
            "6K1/8/8/8/8/8/1kp5/2Q5 b - - 0 1",
            "6K1/8/8/8/3Q4/2p5/1k6/8 w - - 0 1",
        ] {
            assert_eq!(known_of(fen), None, "{fen}");
        }
    }

    #[test]
    fn corners_draw_the_king_with_bishop_and_knight() {
        assert_eq!(walk(Square::A8, Square::A8), 0);
        assert!(walk(Square::A8, Square::D5) < walk(Square::A8, Square::H8));
        assert_eq!((to_edge(Square::A1), to_edge(Square::E4)), (6, 0));
    }
}
