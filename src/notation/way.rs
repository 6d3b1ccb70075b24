//! How a piece gets to a square, king safety and whose turn it is left aside.

use shakmaty::{Board, Color, Rank, Role, Square, attacks};

use super::track::Stay;

/// The way of one piece to one square.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Way {
    /// The piece does not move like that.
    None,
    /// It can go.
    Clear,
    /// It moves like that, but these squares are taken; the nearest first.
    Blocked(Vec<Square>),
    /// A pawn would take there, and there is nothing.
    NothingToTake,
}

/// The way of a piece from the square of its stay, the other pieces as on `board`. `passed` is the
/// square on which a pawn can be taken in passing.
pub(super) fn way(board: &Board, stay: &Stay, to: Square, passed: Option<Square>) -> Way {
    if stay.role == Role::Pawn {
        return pawn(board, stay, to, passed);
    }
    let reach = attacks::attacks(stay.square, stay.piece(), shakmaty::Bitboard::EMPTY);
    if !reach.contains(to) {
        return Way::None;
    }
    let own = board.color_at(to) == Some(stay.color);
    blocked(board, stay.square, to, own)
}

fn blocked(board: &Board, from: Square, to: Square, end_is_taken: bool) -> Way {
    let mut taken: Vec<Square> = (attacks::between(from, to) & board.occupied())
        .into_iter()
        .collect();
    if end_is_taken {
        taken.push(to);
    }
    taken.sort_by_key(|s| from.distance(*s));
    if taken.is_empty() {
        Way::Clear
    } else {
        Way::Blocked(taken)
    }
}

fn pawn(board: &Board, stay: &Stay, to: Square, passed: Option<Square>) -> Way {
    let from = stay.square;
    let forward = forward(stay.color, from, to);
    let aside = from.file().distance(to.file());
    let start = stay.color.fold_wb(Rank::Second, Rank::Seventh);
    match (forward, aside) {
        (1, 0) => blocked(board, from, to, board.piece_at(to).is_some()),
        (2, 0) if from.rank() == start => blocked(board, from, to, board.piece_at(to).is_some()),
        (1, 1) => match board.color_at(to) {
            Some(color) if color == stay.color => Way::Blocked(vec![to]),
            Some(_) => Way::Clear,
            None if passed == Some(to) => Way::Clear,
            None => Way::NothingToTake,
        },
        _ => Way::None,
    }
}

/// Ranks from one square to the other as that side counts them.
fn forward(color: Color, from: Square, to: Square) -> i32 {
    let up = i32::from(to.rank()) - i32::from(from.rank());
    color.fold_wb(up, -up)
}
