//! What a move attacks. Defence counts defenders only: one that is pinned or overloaded defends in
//! these definitions, and an attack that the other side can simply answer by a greater one stays one.

use shakmaty::{Bitboard, Board, Color, Position, Square};

use super::Played;
use crate::board::exchange;

pub(super) fn is_discovered_check(played: &Played<'_>) -> bool {
    let mut checkers = played.next.checkers().into_iter();
    checkers.any(|s| s != played.mv.to()) && !played.mv.is_castle()
}

pub(super) fn is_discovered_attack(played: &Played<'_>) -> bool {
    (uncovered(played) & !played.next.board().kings()).any()
}

pub(super) fn is_double_attack(played: &Played<'_>) -> bool {
    let targets = attacked_by_moved(played) | uncovered(played);
    targets.count() >= 2 && exchange::on_square(&played.next, played.arrival()) == 0
}

/// Prey of the moved piece that it did not attack from where it came.
fn attacked_by_moved(played: &Played<'_>) -> Bitboard {
    let at = played.arrival();
    let board = played.next.board();
    let from = played.mv.from().filter(|_| !played.mv.is_castle());
    let old = from.map_or(Bitboard::EMPTY, |s| played.pos.board().attacks_from(s));
    prey(board, at, played.side()) & !old
}

/// Prey of other pieces that they could not reach before.
fn uncovered(played: &Played<'_>) -> Bitboard {
    let (before, after) = (played.pos.board(), played.next.board());
    let others = after.by_color(played.side()) & after.sliders() & before.occupied();
    let mut found = Bitboard::EMPTY;
    for slider in others.into_iter().filter(|s| *s != played.arrival()) {
        found |= prey(after, slider, played.side()) & !before.attacks_from(slider);
    }
    found
}

/// What the piece on `at` attacks that is worth more than itself, or undefended, or the king; no pawns.
fn prey(board: &Board, at: Square, side: Color) -> Bitboard {
    let men = board.by_color(side.other()) & !board.pawns();
    let targets = board.attacks_from(at) & men;
    targets
        .into_iter()
        .filter(|target| board.kings().contains(*target) || is_prey(board, at, *target))
        .collect()
}

/// True where taking on `target` from `at` would win something as far as defenders can tell.
pub(super) fn is_prey(board: &Board, at: Square, target: Square) -> bool {
    let (Some(hunter), Some(victim)) = (board.piece_at(at), board.piece_at(target)) else {
        return false;
    };
    exchange::value(victim.role) > exchange::value(hunter.role)
        || board
            .attacks_to(target, victim.color, board.occupied())
            .is_empty()
}
