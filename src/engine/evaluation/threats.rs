//! Threats: what attacks something worth more, something loose, or takes room away.

use shakmaty::{Bitboard, attacks};

use super::pieces::pawn_set_attacks;
use super::{Board, Sink};
use crate::engine::generate::forward;
use crate::engine::terms::*;
use crate::engine::types::*;

/// Files c to f on ranks 2 to 4 of each side.
const ROOM: [Bitboard; 2] = [
    Bitboard(0x0000_0000_3c3c_3c00),
    Bitboard(0x003c_3c3c_0000_0000),
];
const THIRD: [Bitboard; 2] = [
    Bitboard(0x0000_0000_00ff_0000),
    Bitboard(0x0000_ff00_0000_0000),
];

pub fn count(board: &Board, colour: Colour, sink: &mut impl Sink) {
    let p = board.p;
    let them = colour ^ 1;
    let enemy_pieces = p.side(them) & !p.kind(PAWN);
    let pawn_covered = board.by[them][PAWN];
    let strong = pawn_covered | (board.twice[them] & !board.twice[colour]);
    let loose = p.side(them) & !strong & board.all[colour];

    let safe_pawns = p.men(colour, PAWN) & (!board.all[them] | board.all[colour]);
    let (left, right) = pawn_set_attacks(colour, safe_pawns);
    per_victim(board, colour, left | right, THREAT_BY_PAWN, KNIGHT, sink);

    let minors = board.by[colour][KNIGHT] | board.by[colour][BISHOP];
    let worth_taking = loose | (enemy_pieces & pawn_covered);
    per_victim(
        board,
        colour,
        minors & worth_taking,
        THREAT_BY_MINOR,
        PAWN,
        sink,
    );
    let rooks = board.by[colour][ROOK] & (loose | p.men(them, QUEEN));
    per_victim(board, colour, rooks, THREAT_BY_ROOK, PAWN, sink);
    if (board.by[colour][KING] & loose).any() {
        sink.add(colour, THREAT_BY_KING, 1);
    }
    let hanging = loose & (!board.all[them] | (enemy_pieces & board.twice[colour]));
    sink.add(colour, THREAT_HANGING, hanging.count() as i32);
    let restricted = board.all[them] & !strong & board.all[colour];
    sink.add(colour, RESTRICTED, restricted.count() as i32);
    count_pushes(board, colour, enemy_pieces, sink);
    count_queen_hunts(board, colour, strong, sink);
    count_space(board, colour, sink);
}

fn per_victim(
    board: &Board,
    colour: Colour,
    hit: Bitboard,
    term: usize,
    first: Kind,
    sink: &mut impl Sink,
) {
    let hit = hit & board.p.side(colour ^ 1);
    if hit.is_empty() {
        return;
    }
    for kind in first..KING {
        let count = (hit & board.p.kind(kind)).count() as i32;
        if count != 0 {
            sink.add(colour, term + kind - first, count);
        }
    }
}

fn count_pushes(board: &Board, colour: Colour, enemy_pieces: Bitboard, sink: &mut impl Sink) {
    let p = board.p;
    let free = !board.occupied;
    let mut steps = forward(colour, p.men(colour, PAWN)) & free;
    steps |= forward(colour, steps & THIRD[colour]) & free;
    let them = colour ^ 1;
    steps &= !board.by[them][PAWN] & (board.all[colour] | !board.all[them]);
    let (left, right) = pawn_set_attacks(colour, steps);
    sink.add(
        colour,
        THREAT_BY_PUSH,
        ((left | right) & enemy_pieces).count() as i32,
    );
}

fn count_queen_hunts(board: &Board, colour: Colour, strong: Bitboard, sink: &mut impl Sink) {
    let p = board.p;
    let Some(queen) = p.men(colour ^ 1, QUEEN).single_square() else {
        return;
    };
    let safe = board.area[colour] & !strong & !p.side(colour);
    let knight = board.by[colour][KNIGHT] & attacks::knight_attacks(queen);
    sink.add(
        colour,
        THREAT_KNIGHT_ON_QUEEN,
        (knight & safe).count() as i32,
    );
    let sliders = (board.by[colour][BISHOP] & attacks::bishop_attacks(queen, board.occupied))
        | (board.by[colour][ROOK] & attacks::rook_attacks(queen, board.occupied));
    let slider = (sliders & safe & board.twice[colour]).count();
    sink.add(colour, THREAT_SLIDER_ON_QUEEN, slider as i32);
}

fn count_space(board: &Board, colour: Colour, sink: &mut impl Sink) {
    let p = board.p;
    let pawns = p.men(colour, PAWN);
    let safe = ROOM[colour] & !pawns & !board.by[colour ^ 1][PAWN];
    let men = p.side(colour).count() as i32;
    sink.add(colour, SPACE, safe.count() as i32 * (men - 6).max(0) / 4);
}
