//! A token against the legal moves of a position.

use shakmaty::{Move, Position, san::San};

use super::{Phantom, Reading, Shape, Token};
use crate::board::Line;

pub(super) fn reading(token: &Token, line: &Line) -> Reading {
    let (Shape::Step { .. } | Shape::Castle(_)) = token.shape else {
        return Reading::Pass;
    };
    let mut fits: Vec<Move> = line
        .position()
        .legal_moves()
        .into_iter()
        .filter(|mv| fits(token, mv))
        .collect();
    match fits.len() {
        0 => Reading::Phantom(Phantom {
            reasons: Vec::new(),
            retained: None,
        }),
        1 => Reading::Legal(fits.remove(0)),
        _ => Reading::Ambiguous(fits),
    }
}

fn fits(token: &Token, mv: &Move) -> bool {
    match &token.shape {
        Shape::Step {
            role,
            file,
            rank,
            to,
            promotion,
            ..
        } => San::Normal {
            role: role.unwrap_or(mv.role()),
            file: *file,
            rank: *rank,
            capture: mv.is_capture(),
            to: *to,
            promotion: *promotion,
        }
        .matches(mv),
        Shape::Castle(side) => mv.castling_side() == Some(*side),
        Shape::Pass => false,
    }
}
