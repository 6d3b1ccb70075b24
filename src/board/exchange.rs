//! What a sequence of captures on one square wins.
//!
//! # Definition
//! Static exchange: the side to move takes on a square, the other side takes back, and so on, each
//! side always with its least valuable piece and each free to stop when going on would lose. The
//! value is what the side that starts gains, in pawns.
//!
//! Only legal captures count: a piece pinned to its king takes only along the pin, a king takes only
//! what is not defended, and after every capture the lines behind the capturing piece are open. So it
//! is computed on real positions, move by move, not on attack masks.
//!
//! # Known errors
//! It looks at one square: a recapture that uncovers a check elsewhere, an intermediate move, an
//! overloaded piece or a mate at the end are not seen. Taking with the least valuable piece first is
//! not always best.
//!
//! Values 1, 3, 3, 5, 9: common practice, no source.

use shakmaty::{Chess, Move, Position, Role, Square};

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
/// pawns. Negative where the moved piece is lost for less.
#[must_use]
pub fn after_move(pos: &Chess, mv: &Move) -> i32 {
    let mut next = pos.clone();
    next.play_unchecked(mv);
    gain(mv) - on_square(&next, mv.to())
}

/// The most the side to move can win by captures on `square`, in pawns; 0 where taking does not pay
/// or cannot be done.
#[must_use]
pub fn on_square(pos: &Chess, square: Square) -> i32 {
    capturers(pos, square)
        .first()
        .map_or(0, |mv| after_move(pos, mv).max(0))
}

/// The most the side to move can win by any legal capture, in pawns, with the capture that does it;
/// `None` where no capture wins anything.
#[must_use]
pub fn best_capture(pos: &Chess) -> Option<(i32, Move)> {
    pos.legal_moves()
        .into_iter()
        .filter(Move::is_capture)
        .map(|mv| (after_move(pos, &mv), mv))
        .filter(|(won, _)| *won > 0)
        .max_by(|a, b| a.0.cmp(&b.0).then(order(&b.1).cmp(&order(&a.1))))
}

/// A fixed order among moves, so that equal captures never depend on the order of generation.
fn order(mv: &Move) -> (i32, u32, u32) {
    (
        value(mv.role()),
        mv.from().map_or(0, u32::from),
        u32::from(mv.to()),
    )
}

/// The legal captures on `square`, the least valuable piece first. A pawn that promotes by capturing
/// is taken at its best: only the queen counts.
fn capturers(pos: &Chess, square: Square) -> Vec<Move> {
    let mut moves: Vec<Move> = pos
        .legal_moves()
        .into_iter()
        .filter(|mv| {
            mv.is_capture()
                && lands_on(mv, square)
                && mv.promotion().is_none_or(|r| r == Role::Queen)
        })
        .collect();
    moves.sort_by_key(|mv| {
        if mv.role() == Role::King {
            (i32::MAX, 0, 0)
        } else {
            order(mv)
        }
    });
    moves
}

/// True where the move takes what stands on `square`, also in passing.
fn lands_on(mv: &Move, square: Square) -> bool {
    match mv {
        Move::EnPassant { from, to } => {
            Square::from_coords(to.file(), from.rank()) == square || *to == square
        }
        _ => mv.to() == square,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::read_fen;
    use shakmaty::san::San;

    fn won(fen: &str, san: &str) -> i32 {
        let pos = read_fen(fen).unwrap();
        let mv = san.parse::<San>().unwrap().to_move(&pos).unwrap();
        after_move(&pos, &mv)
    }

    #[test]
    fn plain_exchanges() {
        // Worked by hand: a pawn taken for nothing, an even trade, a rook for a defended pawn.
        assert_eq!(won("4k3/8/8/3p4/8/8/8/3RK3 w - - 0 1", "Rxd5"), 1);
        assert_eq!(won("4k3/8/2n5/4p3/8/5N2/8/4K3 w - - 0 1", "Nxe5"), -2);
        assert_eq!(won("4k3/8/4p3/3p4/8/8/8/3RK3 w - - 0 1", "Rxd5"), -4);
    }

    #[test]
    fn a_pinned_defender_does_not_take_back() {
        // The pawn e6 is pinned by the rook on e1 to its king and cannot recapture on d5.
        assert_eq!(won("4k3/8/4p3/3p4/8/8/8/3RR1K1 w - - 0 1", "Rxd5"), 1);
    }

    #[test]
    fn the_piece_behind_joins_in() {
        // Two rooks in line against one defender: the second is an x-ray through the first.
        assert_eq!(won("3rk3/8/8/3p4/8/8/3R4/3R2K1 w - - 0 1", "Rxd5"), 1);
    }

    #[test]
    fn promotion_counts_what_it_makes() {
        assert_eq!(won("3r2k1/4P3/8/8/8/8/8/6K1 w - - 0 1", "exd8=Q+"), 13);
    }

    #[test]
    fn a_king_does_not_take_what_is_defended() {
        let pos = read_fen("8/8/8/3pk3/8/8/8/3RK3 b - - 0 1").unwrap();
        assert_eq!(best_capture(&pos), None);
    }
}
