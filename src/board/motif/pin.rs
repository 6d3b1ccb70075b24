//! Pieces that may not, or should not, leave a line. Tied to the king: absolute pins only, except in
//! [`is_ignored`], which is about the others.

use shakmaty::{Bitboard, Board, Color, Position, Role, Square, attacks};

use super::{Played, attack};
use crate::board::exchange;

/// Known error: the king's own move that ties a piece of the other side counts as little as it happens.
pub(super) fn is_made(played: &Played<'_>) -> bool {
    let them = played.side().other();
    let before = tied(played.pos.board(), them);
    (tied(played.next.board(), them) & !before).any()
}

pub(super) fn is_used(played: &Played<'_>) -> bool {
    let them = played.side().other();
    let (before, after) = (played.pos.board(), played.next.board());
    if played.mv.is_capture() && tied(before, them).contains(played.mv.to()) {
        return true;
    }
    let at = played.arrival();
    let tied = tied(after, them);
    let old = played
        .mv
        .from()
        .map_or(Bitboard::EMPTY, |from| before.attacks_from(from));
    let pressed = after.attacks_from(at) & !old & tied;
    pressed.any() || is_spared(played, tied, at)
}

/// True where a tied piece bears on the moved piece and may not take it.
fn is_spared(played: &Played<'_>, tied: Bitboard, at: Square) -> bool {
    let board = played.next.board();
    let them = played.side().other();
    let bearing = board.attacks_to(at, them, board.occupied()) & tied;
    let legal = played.next.legal_moves();
    let may_take = |from: Square| {
        let mut takes = legal.iter().filter(|mv| mv.to() == at);
        takes.any(|mv| mv.from() == Some(from))
    };
    bearing.into_iter().any(|from| !may_take(from))
}

pub(super) fn is_broken(played: &Played<'_>) -> bool {
    let us = played.side();
    let gone = tied(played.pos.board(), us) & !tied(played.next.board(), us);
    gone.into_iter()
        .any(|s| played.mv.from() != Some(s) || played.mv.is_capture())
}

/// Légal's mate is the textbook case (Kermur de Légal, Paris, about 1750, from memory). Known error: a
/// move that takes the pinning piece's defender or wins more elsewhere is told the same way.
pub(super) fn is_ignored(played: &Played<'_>) -> bool {
    let Some(from) = played.mv.from().filter(|_| played.mv.role() != Role::King) else {
        return false;
    };
    let (before, after) = (played.pos.board(), played.next.board());
    let them = played.side().other();
    let pinning = before.attacks_to(from, them, before.occupied()) & before.sliders();
    pinning.into_iter().any(|slider| {
        behind(before, slider, from).is_some_and(|target| {
            let worth = |s| before.role_at(s).map_or(0, exchange::value);
            before.by_color(played.side()).contains(target)
                && before.role_at(target) != Some(Role::King)
                && worth(target) > worth(from)
                && attack::is_prey(before, slider, target)
                && after.by_color(them).contains(slider)
                && after.attacks_from(slider).contains(target)
        })
    })
}

/// The first man behind `front` on the line from `slider`.
fn behind(board: &Board, slider: Square, front: Square) -> Option<Square> {
    let without = board.occupied() & !Bitboard::from_square(front);
    let piece = board.piece_at(slider)?;
    let through = attacks::attacks(slider, piece, without) & !board.attacks_from(slider);
    let on_line = through & attacks::ray(slider, front) & board.occupied();
    on_line.into_iter().next()
}

/// Pieces and pawns of a side that alone stand between their king and a queen, rook or bishop.
pub(super) fn tied(board: &Board, side: Color) -> Bitboard {
    let Some(king) = board.king_of(side) else {
        return Bitboard::EMPTY;
    };
    let lines = attacks::rook_attacks(king, Bitboard::EMPTY) & board.rooks_and_queens()
        | attacks::bishop_attacks(king, Bitboard::EMPTY) & board.bishops_and_queens();
    let mut found = Bitboard::EMPTY;
    for slider in lines & board.by_color(side.other()) {
        let between = attacks::between(king, slider) & board.occupied();
        if between.count() == 1 {
            found |= between & board.by_color(side);
        }
    }
    found
}
