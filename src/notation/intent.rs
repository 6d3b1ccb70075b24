//! What a shape asks for, and which legal moves it can mean.

use shakmaty::{Chess, File, Move, Position, Rank, Role, Square};

use super::Shape;

/// The legal moves a shape can mean.
pub(super) fn fitting(shape: &Shape, pos: &Chess) -> Vec<Move> {
    // Asking for the moves of one kind of piece to one square spares generating all the others. A
    // king's may be castling, which shakmaty does not count among them.
    let moves = match *shape {
        Shape::Step {
            role: Some(role),
            to,
            ..
        } if role != Role::King => pos.san_candidates(role, to),
        Shape::Castle(side) => pos.castling_moves(side),
        _ => pos.legal_moves(),
    };
    moves.into_iter().filter(|mv| fits(shape, mv)).collect()
}

fn fits(shape: &Shape, mv: &Move) -> bool {
    match shape {
        Shape::Castle(side) => mv.castling_side() == Some(*side),
        Shape::Pass => false,
        Shape::Takes { from, to } => {
            mv.role() == Role::Pawn
                && mv.from().is_some_and(|square| square.file() == *from)
                && mv.to().file() == *to
        }
        Shape::Step { .. } => MoveIntent::of(shape).is_some_and(|intent| intent.fits(mv)),
    }
}

/// What a [`Shape::Step`] asks for, the file of a pawn that goes straight on filled in.
#[derive(Debug, Clone, Copy)]
pub(super) struct MoveIntent {
    pub role: Option<Role>,
    pub file: Option<File>,
    pub rank: Option<Rank>,
    pub to: Square,
    pub promotion: Option<Role>,
}

impl MoveIntent {
    /// A pawn's capture by its two files, to the square ahead of the pawn that stands on the first of them;
    /// where none does, to the middle of the board.
    pub(super) fn of_takes(pos: &Chess, from: File, to: File) -> Self {
        let us = pos.turn();
        let pawns = pos.board().by_color(us) & pos.board().pawns();
        let pawn = pawns.into_iter().find(|square| square.file() == from);
        let ahead = pawn.and_then(|square| square.offset(us.fold_wb(8, -8)));
        let rank = ahead.map_or(us.fold_wb(Rank::Fifth, Rank::Fourth), Square::rank);
        Self {
            role: Some(Role::Pawn),
            file: Some(from),
            rank: None,
            to: Square::from_coords(to, rank),
            promotion: None,
        }
    }

    pub(super) fn of(shape: &Shape) -> Option<Self> {
        let Shape::Step {
            role,
            file,
            rank,
            capture,
            to,
            promotion,
        } = *shape
        else {
            return None;
        };
        let straight_on = role == Some(Role::Pawn) && file.is_none() && !capture;
        Some(Self {
            role,
            file: if straight_on { Some(to.file()) } else { file },
            rank,
            to,
            promotion,
        })
    }

    /// True where a piece on that square can be the one that is named.
    pub(super) fn names(&self, role: Role, from: Square) -> bool {
        self.role.is_none_or(|r| r == role)
            && self.file.is_none_or(|f| f == from.file())
            && self.rank.is_none_or(|r| r == from.rank())
    }

    /// The square it starts from, where both of its letters are given.
    pub(super) fn from(&self) -> Option<Square> {
        Some(Square::from_coords(self.file?, self.rank?))
    }

    fn fits(&self, mv: &Move) -> bool {
        match *mv {
            Move::Castle { king, rook } => {
                let king_to = mv
                    .castling_side()
                    .map(|side| Square::from_coords(side.king_to_file(), king.rank()));
                self.from() == Some(king)
                    && self.names(Role::King, king)
                    && self.promotion.is_none()
                    && (self.to == rook || Some(self.to) == king_to)
            }
            _ => {
                mv.to() == self.to
                    && mv.from().is_some_and(|from| self.names(mv.role(), from))
                    && self.promotion.is_none_or(|p| mv.promotion() == Some(p))
            }
        }
    }
}
