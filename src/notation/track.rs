//! Where every piece stood during a line, and when it left.

use shakmaty::{Board, Chess, Color, Move, Piece, Position, Role, Square};

use crate::board::Line;

/// A piece on one square, from its coming until its going.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stay {
    /// The same for all stays of one piece, a promoted pawn included.
    pub id: usize,
    pub color: Color,
    pub role: Role,
    pub square: Square,
    /// How and at which ply it ended; `None` where the piece still stands there.
    pub end: Option<(End, usize)>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    Moved,
    Captured,
}

impl Stay {
    pub(super) fn piece(&self) -> Piece {
        Piece {
            color: self.color,
            role: self.role,
        }
    }
}

/// All stays of both sides since the root, in the order of their beginning; those of the root from the
/// player's own first rank on, so that the colours make no difference to what is told first.
pub(super) fn stays(line: &Line) -> Vec<Stay> {
    let mut pieces: Vec<(Square, Piece)> = line.root().board().clone().into_iter().collect();
    let player = line.player();
    pieces.sort_by_key(|(s, _)| (player.fold_wb(s.rank(), s.rank().flip_vertical()), s.file()));
    let mut stays: Vec<Stay> = pieces
        .into_iter()
        .enumerate()
        .map(|(id, (square, piece))| Stay {
            id,
            color: piece.color,
            role: piece.role,
            square,
            end: None,
        })
        .collect();
    for (mv, ply) in line.moves().iter().zip(1..) {
        if let Some(square) = captured_on(mv) {
            close(&mut stays, square, End::Captured, ply);
        }
        let moved: Vec<Stay> = steps(mv)
            .into_iter()
            .filter_map(|(from, to)| {
                let left = close(&mut stays, from, End::Moved, ply)?;
                Some(Stay {
                    square: to,
                    role: mv.promotion().unwrap_or(left.role),
                    end: None,
                    ..left
                })
            })
            .collect();
        stays.extend(moved);
    }
    stays
}

fn close(stays: &mut [Stay], square: Square, end: End, ply: usize) -> Option<Stay> {
    let stay = stays
        .iter_mut()
        .find(|s| s.square == square && s.end.is_none())?;
    stay.end = Some((end, ply));
    Some(*stay)
}

/// The square on which a move takes something.
pub(super) fn captured_on(mv: &Move) -> Option<Square> {
    match *mv {
        Move::EnPassant { from, to } => Some(Square::from_coords(to.file(), from.rank())),
        _ => mv.is_capture().then(|| mv.to()),
    }
}

/// From where to where pieces go in a move: two of them in castling.
fn steps(mv: &Move) -> Vec<(Square, Square)> {
    match *mv {
        Move::Castle { king, rook } => mv.castling_side().map_or_else(Vec::new, |side| {
            vec![
                (king, Square::from_coords(side.king_to_file(), king.rank())),
                (rook, Square::from_coords(side.rook_to_file(), rook.rank())),
            ]
        }),
        _ => mv.from().map(|from| (from, mv.to())).into_iter().collect(),
    }
}

/// Where the piece of a stay stands now; `None` where it was captured.
pub(super) fn now(stays: &[Stay], id: usize) -> Option<Square> {
    stays
        .iter()
        .find(|s| s.id == id && s.end.is_none())
        .map(|s| s.square)
}

/// The board with the piece of an ended stay back on its square. What stands there now gives way;
/// `None` where that is a king.
pub(super) fn put_back(board: &Board, stay: &Stay, stays: &[Stay]) -> Option<Board> {
    let mut board = board.clone();
    if let Some(now) = now(stays, stay.id) {
        board.discard_piece_at(now);
    }
    if board.role_at(stay.square) == Some(Role::King) {
        return None;
    }
    board.set_piece_at(stay.square, stay.piece());
    Some(board)
}

/// The ply since which something has held without a break up to now; `None` where it held at the
/// root already. It must hold now.
pub(super) fn since(line: &Line, holds: impl Fn(&Chess) -> bool) -> Option<usize> {
    (0..=line.ply())
        .rev()
        .take_while(|ply| line.position_at(*ply).is_some_and(&holds))
        .last()
        .filter(|ply| *ply > 0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::walks;
    use proptest::prelude::*;

    proptest! {
        /// The open stays are exactly the pieces on the board.
        #[test]
        fn open_stays_are_the_board(line in walks::line(40)) {
            let board = line.position().board().clone();
            let stays = stays(&line);
            let open: Vec<&Stay> = stays.iter().filter(|s| s.end.is_none()).collect();
            prop_assert_eq!(open.len(), board.occupied().count());
            for stay in open {
                prop_assert_eq!(board.piece_at(stay.square), Some(stay.piece()));
            }
        }
    }
}
