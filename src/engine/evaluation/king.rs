//! Safety of kings: pawns before them, and the danger from pieces around them.

use shakmaty::{Bitboard, Square, attacks};

use super::pieces::{file_of, pinned_men};
use super::{Board, Sink};
use crate::engine::position::Position;
use crate::engine::terms::*;
use crate::engine::types::*;

const KING_WINGS: [Bitboard; 2] = [
    Bitboard(0x0f0f_0f0f_0f0f_0f0f),
    Bitboard(0xf0f0_f0f0_f0f0_f0f0),
];

/// Own and enemy pawns on the king's file and its neighbours. Depends on pawns and kings alone.
pub fn count_shelter(p: &Position, colour: Colour, sink: &mut impl Sink) {
    let king = p.king(colour);
    let rank = relative_rank(colour, king);
    let (own, enemy) = (p.men(colour, PAWN), p.men(colour ^ 1, PAWN));
    let middle = (at(king) & 7).clamp(1, 6);
    for file in middle - 1..=middle + 1 {
        let line = file_of(square(file));
        let shield = nearest(colour, own & line, rank);
        let attacker = nearest(colour, enemy & line, rank);
        sink.add(colour, SHELTER + 7 * file.min(7 - file) + shield.min(6), 1);
        let blocked = shield != 0 && attacker == shield + 1;
        sink.add(colour, STORM + if blocked { 8 } else { 0 } + attacker, 1);
    }
    let line = file_of(king);
    if (line & own).is_empty() {
        let open = (line & enemy).is_empty();
        sink.add(
            colour,
            if open {
                KING_OPEN_FILE
            } else {
                KING_HALF_OPEN_FILE
            },
            1,
        );
    }
    if (own & KING_WINGS[(at(king) & 7) / 4]).is_empty() {
        sink.add(colour, KING_BARE_WING, 1);
    }
}

/// Relative rank of the pawn nearest to the own edge but not behind `rank`; 0 if there is none.
fn nearest(colour: Colour, pawns: Bitboard, rank: usize) -> usize {
    let first = |set: Bitboard| {
        if colour == WHITE {
            set.first()
        } else {
            set.last()
        }
    };
    let ahead = if colour == WHITE {
        Bitboard(!0 << (8 * rank))
    } else {
        Bitboard(!0 >> (8 * rank))
    };
    first(pawns & ahead).map_or(0, |s: Square| relative_rank(colour, s))
}

/// The danger that `colour`'s king is in.
pub fn count_danger(board: &Board, colour: Colour, sink: &mut impl Sink) {
    let p = board.p;
    let them = colour ^ 1;
    let king = p.king(colour);
    for kind in [KNIGHT, BISHOP, ROOK, QUEEN] {
        sink.danger(
            colour,
            DANGER_ATTACKER + kind - 1,
            board.attackers[colour][kind],
        );
    }
    sink.danger(colour, DANGER_HITS, board.hits[colour]);
    let thin = !board.twice[colour]
        & (!board.all[colour] | board.by[colour][KING] | board.by[colour][QUEEN]);
    let weak = board.zone[colour] & board.all[them] & thin;
    sink.danger(colour, DANGER_WEAK, weak.count() as i32);
    count_checks(board, colour, thin, sink);
    sink.danger(colour, DANGER_PINNED, pinned_men(p, colour).count() as i32);
    sink.danger(
        colour,
        DANGER_NO_QUEEN,
        p.men(them, QUEEN).is_empty() as i32,
    );
    let guards = board.by[colour][KNIGHT] & attacks::king_attacks(king);
    sink.danger(colour, DANGER_KNIGHT_NEAR, guards.any() as i32);
    sink.danger(colour, DANGER_BASE, 1);
    sink.close_danger(colour);
}

fn count_checks(board: &Board, colour: Colour, thin: Bitboard, sink: &mut impl Sink) {
    let p = board.p;
    let them = colour ^ 1;
    let king = p.king(colour);
    let through = board.occupied & !p.men(colour, QUEEN);
    let straight = attacks::rook_attacks(king, through);
    let diagonal = attacks::bishop_attacks(king, through);
    let safe = !p.side(them) & (!board.all[colour] | (thin & board.twice[them]));
    let from = [
        attacks::knight_attacks(king) & board.by[them][KNIGHT],
        diagonal & board.by[them][BISHOP],
        straight & board.by[them][ROOK],
        (straight | diagonal) & board.by[them][QUEEN],
    ];
    let mut unsafe_checks = Bitboard::EMPTY;
    for (i, squares) in from.into_iter().enumerate() {
        let good = squares & safe;
        if good.any() {
            sink.danger(
                colour,
                DANGER_SAFE_CHECK + i,
                1 + good.more_than_one() as i32,
            );
        } else if i < 3 {
            unsafe_checks |= squares & !p.side(them);
        }
    }
    sink.danger(colour, DANGER_UNSAFE_CHECK, unsafe_checks.count() as i32);
}
