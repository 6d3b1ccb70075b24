//! Slips of the pen: legal moves that one edit of the text would have written.

use shakmaty::{File, Move, Rank, Role, Square};

use super::intent::fitting;
use super::{Shape, Token};
use crate::board::Line;

/// Legal moves one edit away. One edit is: a file or rank written one off, on the first or the second
/// square; another piece letter, one forgotten or one too many; another promotion piece, one
/// forgotten or one too many; the first square left out; castling to the other side.
///
/// Moves that the token itself can mean are not among them. Order: as listed here, then that of the
/// squares; no move twice.
pub(super) fn slips(token: &Token, line: &Line) -> Vec<Move> {
    let pos = line.position();
    let meant = fitting(&token.shape, pos);
    let mut found: Vec<Move> = Vec::new();
    for shape in edits(&token.shape) {
        for mv in fitting(&shape, pos) {
            if !meant.contains(&mv) && !found.contains(&mv) {
                found.push(mv);
            }
        }
    }
    found
}

fn edits(shape: &Shape) -> Vec<Shape> {
    match *shape {
        Shape::Pass => Vec::new(),
        Shape::Takes { from, to } => {
            let other_pawns = files_beside(from).map(|from| Shape::Takes { from, to });
            let other_targets = files_beside(to).map(|to| Shape::Takes { from, to });
            other_pawns.chain(other_targets).collect()
        }
        Shape::Castle(side) => vec![Shape::Castle(other_side(side))],
        Shape::Step {
            role,
            file,
            rank,
            capture,
            to,
            promotion,
        } => {
            let base = Step {
                role,
                file,
                rank,
                capture,
                to,
                promotion,
            };
            let edited = [
                base.other_targets(),
                base.other_origins(),
                base.other_pieces(),
                base.other_promotions(),
            ];
            edited.concat().into_iter().map(Step::shape).collect()
        }
    }
}

fn other_side(side: shakmaty::CastlingSide) -> shakmaty::CastlingSide {
    match side {
        shakmaty::CastlingSide::KingSide => shakmaty::CastlingSide::QueenSide,
        shakmaty::CastlingSide::QueenSide => shakmaty::CastlingSide::KingSide,
    }
}

#[derive(Clone, Copy)]
struct Step {
    role: Option<Role>,
    file: Option<File>,
    rank: Option<Rank>,
    capture: bool,
    to: Square,
    promotion: Option<Role>,
}

impl Step {
    fn shape(self) -> Shape {
        Shape::Step {
            role: self.role,
            file: self.file,
            rank: self.rank,
            capture: self.capture,
            to: self.to,
            promotion: self.promotion,
        }
    }

    fn other_targets(self) -> Vec<Self> {
        let files = files_beside(self.to.file()).map(|f| Square::from_coords(f, self.to.rank()));
        let ranks = ranks_beside(self.to.rank()).map(|r| Square::from_coords(self.to.file(), r));
        files.chain(ranks).map(|to| Self { to, ..self }).collect()
    }

    fn other_origins(self) -> Vec<Self> {
        let files = self.file.into_iter().flat_map(files_beside);
        let ranks = self.rank.into_iter().flat_map(ranks_beside);
        let mut edited: Vec<Self> = files
            .map(|f| Self {
                file: Some(f),
                ..self
            })
            .chain(ranks.map(|r| Self {
                rank: Some(r),
                ..self
            }))
            .collect();
        if self.role.is_some() {
            edited.push(Self {
                file: None,
                rank: None,
                ..self
            });
        }
        edited
    }

    fn other_pieces(self) -> Vec<Self> {
        let Some(written) = self.role else {
            return Vec::new();
        };
        Role::ALL
            .into_iter()
            .filter(|role| *role != written)
            .map(|role| Self {
                role: Some(role),
                // The file of a pawn that takes says nothing about a piece.
                file: self.file.filter(|_| written != Role::Pawn),
                promotion: self.promotion.filter(|_| role == Role::Pawn),
                ..self
            })
            .collect()
    }

    fn other_promotions(self) -> Vec<Self> {
        [
            None,
            Some(Role::Queen),
            Some(Role::Rook),
            Some(Role::Bishop),
            Some(Role::Knight),
        ]
        .into_iter()
        .filter(|p| *p != self.promotion)
        .map(|promotion| Self { promotion, ..self })
        .collect()
    }
}

fn files_beside(file: File) -> impl Iterator<Item = File> {
    [file.offset(-1), file.offset(1)].into_iter().flatten()
}

fn ranks_beside(rank: Rank) -> impl Iterator<Item = Rank> {
    [rank.offset(-1), rank.offset(1)].into_iter().flatten()
}
