//! What a sequence of captures on one square wins.
//!
//! # Definition
//! Static exchange: the side to move takes on a square, the other side takes back, and so on; each
//! side takes with whichever piece suits it best and is free to stop when going on would lose. The
//! value is what the side that starts gains, in pawns. After a capture in passing the sequence goes on
//! where the capturing pawn has arrived.
//!
//! Only legal captures count: a piece pinned to its king takes only along the pin, a king takes only
//! what is not defended, a check is answered first, and after every capture the lines behind the
//! capturing piece are open. So it is computed on real positions, move by move, not on attack masks.
//!
//! It is the whole minimax of that game, cut by alpha-beta (D. E. Knuth and R. W. Moore, An Analysis of
//! Alpha-Beta Pruning, 1975, from memory), which changes no value. Trying the least valuable piece
//! first is only the order. Programs usually *play* that order and call its outcome the exchange; the
//! two differ where the least valuable piece is pinned later, gives a check on leaving its line, or is
//! a pawn that promotes. The tests measure how often: 7 of 14,463 squares on random walks.
//!
//! A pawn that promotes by capturing becomes a queen. Nothing is lost by leaving the other roles out:
//! they leave the same captures legal, and what the pawn gains by promoting is lost with it at most.
//!
//! # Known errors
//! It looks at one square: an intermediate move, an overloaded piece or a mate at the end are not
//! seen, and a side that is in check is thought free to stop.
//!
//! Values 1, 3, 3, 5, 9: common practice, no source.

use shakmaty::{Chess, Color, Move, Position, Role, Square};

/// More than any exchange can win: every man of one side and eight promotions.
const MUCH: i32 = 1000;

/// The value of a piece in pawns; the king, who is never given, has none.
#[must_use]
pub fn value(role: Role) -> i32 {
    match role {
        Role::Pawn => 1,
        Role::Knight | Role::Bishop => 3,
        Role::Rook => 5,
        Role::Queen => 9,
        Role::King => 0,
    }
}

/// What a move takes off the board and promotes, in pawns.
#[must_use]
pub fn gain(mv: &Move) -> i32 {
    mv.capture().map_or(0, value)
        + mv.promotion()
            .map_or(0, |role| value(role) - value(Role::Pawn))
}

/// What the move and the best sequence of captures on its square win for the side that plays it, in
/// pawns. Negative where the moved piece is lost for less. Castling stands for its rook's new square.
#[must_use]
pub fn after_move(pos: &Chess, mv: &Move) -> i32 {
    let mut next = pos.clone();
    next.play_unchecked(mv);
    gain(mv) - on_square(&next, arrival(mv, pos.turn()))
}

/// The most the side to move can win by captures on `square`, in pawns; 0 where taking does not pay
/// or cannot be done.
#[must_use]
pub fn on_square(pos: &Chess, square: Square) -> i32 {
    search(pos, square, 0, MUCH)
}

/// The most the side to move can win by any legal capture, in pawns, with the capture that does it;
/// `None` where no capture wins anything.
#[must_use]
pub fn best_capture(pos: &Chess) -> Option<(i32, Move)> {
    let mut best: Option<(i32, Move)> = None;
    for mv in captures(pos) {
        let won = after_move(pos, &mv);
        if won > best.as_ref().map_or(0, |(w, _)| *w) {
            best = Some((won, mv));
        }
    }
    best
}

/// A capture and the captures on its square that follow it at best play, as long as they pay. Of
/// equally good ones the first in [`order`] is taken.
#[must_use]
pub fn sequence(pos: &Chess, first: &Move) -> Vec<Move> {
    let mut moves = vec![first.clone()];
    let mut now = pos.clone();
    now.play_unchecked(first);
    let mut square = arrival(first, pos.turn());
    while let Some(mv) = best_on(&now, square) {
        square = arrival(&mv, now.turn());
        now.play_unchecked(&mv);
        moves.push(mv);
    }
    moves
}

fn best_on(pos: &Chess, square: Square) -> Option<Move> {
    let worth = on_square(pos, square);
    if worth == 0 {
        return None;
    }
    let mut takers = capturers(pos, square).into_iter();
    takers.find(|mv| after_move(pos, mv) == worth)
}

/// Alpha-beta over the captures on one square; exact between `alpha` and `beta`.
fn search(pos: &Chess, square: Square, alpha: i32, beta: i32) -> i32 {
    // To stop is always allowed.
    let mut best = 0.max(alpha);
    if best >= beta || !may_be_taken(pos, square) {
        return best;
    }
    for mv in capturers(pos, square) {
        let gain = gain(&mv);
        let mut next = pos.clone();
        next.play_unchecked(&mv);
        // The reply is worth nothing at least, so a gain within the bound cannot raise it.
        if gain > best {
            let reply = search(&next, mv.to(), gain - beta, gain - best);
            best = best.max(gain - reply);
        }
        if best >= beta {
            break;
        }
    }
    best
}

/// False where nothing of the side to move bears on what stands there; cheap.
fn may_be_taken(pos: &Chess, square: Square) -> bool {
    let board = pos.board();
    pos.maybe_ep_square().is_some() || board.attacks_to(square, pos.turn(), board.occupied()).any()
}

/// A fixed order among moves, the same for both colours on a mirrored board, so that equal captures
/// never depend on the order of generation: least valuable piece, then squares seen from its side.
#[must_use]
pub fn order(mv: &Move, side: Color) -> (i32, u32, u32) {
    let seen = |square: Square| u32::from(side.fold_wb(square, square.flip_vertical()));
    let worth = if mv.role() == Role::King {
        MUCH
    } else {
        value(mv.role())
    };
    (worth, mv.from().map_or(0, seen), seen(mv.to()))
}

/// The square where a capture would meet what has moved; for castling the rook's, the king being out of
/// reach.
fn arrival(mv: &Move, side: Color) -> Square {
    match mv.castling_side() {
        Some(castling) => castling.rook_to(side),
        None => mv.to(),
    }
}

/// The legal captures that need looking at, in [`order`].
fn captures(pos: &Chess) -> Vec<Move> {
    let counts = |mv: &Move| mv.is_capture() && mv.promotion().is_none_or(|r| r == Role::Queen);
    let mut moves: Vec<Move> = pos.legal_moves().into_iter().filter(counts).collect();
    moves.sort_by_key(|mv| order(mv, pos.turn()));
    moves
}

/// The legal captures of what stands on `square`.
fn capturers(pos: &Chess, square: Square) -> Vec<Move> {
    let mut moves = captures(pos);
    moves.retain(|mv| taken_on(mv) == square);
    moves
}

/// Where the captured piece stands: beside the pawn that takes in passing, else on the square it goes to.
fn taken_on(mv: &Move) -> Square {
    match mv {
        Move::EnPassant { from, to } => Square::from_coords(to.file(), from.rank()),
        _ => mv.to(),
    }
}

#[cfg(test)]
mod tests;
