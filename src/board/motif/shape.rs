//! What a move looks like on the board. No known errors beyond the definitions.

use shakmaty::{Bitboard, Color, Move, Position, Role, attacks};

use super::Played;

/// From this length on, in squares, a move is long.
const LONG: u32 = 4;

pub(super) fn is_underpromotion(played: &Played<'_>) -> bool {
    played.mv.promotion().is_some_and(|r| r != Role::Queen)
}

pub(super) fn is_en_passant(played: &Played<'_>) -> bool {
    played.mv.is_en_passant()
}

pub(super) fn is_castling(played: &Played<'_>) -> bool {
    played.mv.is_castle()
}

pub(super) fn is_king_move(played: &Played<'_>) -> bool {
    played.mv.role() == Role::King && !played.mv.is_castle()
}

/// N. Krogius and others name moves back among those most often overlooked (Psychology in Chess, 1976,
/// from memory).
pub(super) fn is_backward(played: &Played<'_>) -> bool {
    forward(played).is_some_and(|n| n < 0)
}

pub(super) fn is_sideways(played: &Played<'_>) -> bool {
    forward(played) == Some(0)
}

/// Ranks that a piece goes forward, seen from its own side.
fn forward(played: &Played<'_>) -> Option<i32> {
    let Move::Normal { role, from, to, .. } = played.mv else {
        return None;
    };
    if matches!(role, Role::Pawn | Role::King) {
        return None;
    }
    let up = i32::from(to.rank()) - i32::from(from.rank());
    Some(played.side().fold_wb(up, -up))
}

/// Squares between start and end as a king would walk.
pub(super) fn is_long(played: &Played<'_>) -> bool {
    match played.mv {
        Move::Normal {
            role: Role::Queen | Role::Rook | Role::Bishop,
            from,
            to,
            ..
        } => from.distance(*to) >= LONG,
        _ => false,
    }
}

pub(super) fn is_interposition(played: &Played<'_>) -> bool {
    let king = played.pos.our(Role::King).first();
    let (Some(king), Some(checker)) = (king, played.pos.checkers().single_square()) else {
        return false;
    };
    played.mv.role() != Role::King
        && !played.mv.is_capture()
        && attacks::between(king, checker).contains(played.mv.to())
}

pub(super) fn leaves_opposite_bishops(played: &Played<'_>) -> bool {
    let board = played.next.board();
    let bishop = |side: Color| (board.bishops() & board.by_color(side)).single_square();
    match (bishop(Color::White), bishop(Color::Black)) {
        (Some(white), Some(black)) => {
            board.knights() == Bitboard::EMPTY && white.is_light() != black.is_light()
        }
        _ => false,
    }
}
