//! Pieces that have no way out.

use shakmaty::{Bitboard, Chess, Move, Position, Square};

use super::{Played, pin};
use crate::board::exchange;
use crate::board::sacrifice::OFFER;

/// Known errors: what saves the piece by a threat of its own elsewhere is not seen, nor a way to take it that needs
/// more than the exchanges on its square.
pub(super) fn sprung(played: &Played<'_>) -> Option<Square> {
    // With a check on the board it is the check that leaves no time.
    if played.next.is_check() || played.mv.is_castle() {
        return None;
    }
    let before = played.pos.clone().swap_turn().ok()?;
    let mut targets = pieces(&played.next).into_iter();
    targets.find(|at| is_lost(&played.next, *at) && !is_lost(&before, *at))
}

/// The knights, bishops, rooks and queens of the side to move that may leave their lines.
fn pieces(pos: &Chess) -> Bitboard {
    let board = pos.board();
    let own = board.by_color(pos.turn()) & !board.pawns() & !board.kings();
    own & !pin::tied(board, pos.turn())
}

/// True where the piece hangs, and whatever the side to move plays costs it the piece, for less than that is worth.
fn is_lost(pos: &Chess, at: Square) -> bool {
    let hangs = |passed: &Chess| f64::from(exchange::on_square(passed, at)) >= OFFER;
    if !pos.clone().swap_turn().is_ok_and(|passed| hangs(&passed)) {
        return false;
    }
    let legal = pos.legal_moves();
    !legal.is_empty() && legal.iter().all(|mv| is_taken_after(pos, at, mv))
}

/// By its own move the piece must be lost where it goes, however dearly it sells itself; after any other move it, or as
/// much elsewhere.
fn is_taken_after(pos: &Chess, at: Square, mv: &Move) -> bool {
    let mut next = pos.clone();
    next.play_unchecked(mv);
    let given = exchange::gain(mv);
    if mv.from() == Some(at) && !mv.is_castle() {
        return exchange::on_square(&next, mv.to()) > given;
    }
    let won = exchange::best_capture(&next).map_or(0, |(won, _)| won);
    f64::from(won - given) >= OFFER
}
