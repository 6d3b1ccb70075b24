//! How much a move forces the other side.

use shakmaty::{Chess, Move, Position, Square};

use super::{Motif, Played};
use crate::board::exchange;
use crate::board::sacrifice::OFFER;

/// Exactly one of [`Motif::FORCING`].
pub(super) fn class(played: &Played<'_>) -> Motif {
    match played.next.checkers().count() {
        2.. => Motif::DoubleCheck,
        1 => Motif::Check,
        _ if played.mv.promotion().is_some() => Motif::Promotion,
        _ if played.mv.is_capture() => Motif::Capture,
        _ if threatens_mate(&played.next) => Motif::ThreatOfMate,
        _ if new_threat(played) > 0 => Motif::OtherThreat,
        _ => Motif::Quiet,
    }
}

/// True where the side that is not to move would mate in one if the other passed.
pub(super) fn threatens_mate(pos: &Chess) -> bool {
    let Ok(passed) = pos.clone().swap_turn() else {
        return false;
    };
    mates(&passed)
}

/// True where the side to move has a mate in one.
pub(super) fn mates(pos: &Chess) -> bool {
    pos.legal_moves().iter().any(|mv| gives_mate(pos, mv))
}

/// True where the move mates.
pub(super) fn gives_mate(pos: &Chess, mv: &Move) -> bool {
    let mut after = pos.clone();
    after.play_unchecked(mv);
    after.is_checkmate()
}

/// What the move threatens to win next, in pawns, that could not be won before; 0 where that is less
/// than [`OFFER`].
pub(super) fn new_threat(played: &Played<'_>) -> i32 {
    let Ok(passed) = played.next.clone().swap_turn() else {
        return 0;
    };
    let legal = passed.legal_moves();
    let winning = legal.iter().filter_map(|mv| {
        let won = prize(&passed, mv)?;
        (won > before(played.pos, mv.to())).then_some(won)
    });
    winning.max().unwrap_or(0)
}

/// What a capture or promotion wins, where that is at least [`OFFER`].
fn prize(pos: &Chess, mv: &Move) -> Option<i32> {
    // Below the bound nothing is worth the exchange's cost.
    let at_least = |won: i32| f64::from(won) >= OFFER;
    at_least(exchange::gain(mv)).then_some(())?;
    Some(exchange::after_move(pos, mv)).filter(|won| at_least(*won))
}

/// What the side to move could win by any move to a square.
fn before(pos: &Chess, square: Square) -> i32 {
    let legal = pos.legal_moves();
    let there = legal.iter().filter(|mv| mv.to() == square);
    there.filter_map(|mv| prize(pos, mv)).max().unwrap_or(0)
}
