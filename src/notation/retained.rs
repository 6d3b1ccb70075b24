//! The retained image: was the move possible in a picture of the board that one ply did not renew?

use shakmaty::{
    Bitboard, CastlingMode, Chess, EnPassantMode, FromSetup, Position, PositionError, Role,
};

use super::Shape;
use super::intent::fitting;
use super::track::{Stay, put_back, stays};
use crate::board::Line;

/// The latest ply whose moved or captured piece, put back, makes the move legal
/// (definition at [`super::Phantom::retained`]).
pub(super) fn ply(shape: &Shape, line: &Line) -> Option<usize> {
    let stays = stays(line);
    (1..=line.ply()).rev().find(|k| {
        stays
            .iter()
            .filter(|s| s.end.is_some_and(|(_, ply)| ply == *k))
            .filter_map(|s| image(line, s, *k, &stays))
            .any(|pos| !fitting(shape, &pos).is_empty())
    })
}

fn image(line: &Line, stay: &Stay, ply: usize, stays: &[Stay]) -> Option<Chess> {
    let now = line.position();
    let mut setup = now.clone().into_setup(EnPassantMode::Always);
    setup.board = put_back(now.board(), stay, stays)?;
    if matches!(stay.role, Role::King | Role::Rook) {
        setup.castling_rights |= lost_at(line, ply);
    }
    // A picture in someone's head need not be reachable: only what makes 'legal' meaningless counts,
    // such as the other king in check.
    Chess::from_setup(setup, CastlingMode::Standard)
        .or_else(PositionError::ignore_invalid_castling_rights)
        .or_else(PositionError::ignore_invalid_ep_square)
        .or_else(PositionError::ignore_too_much_material)
        .or_else(PositionError::ignore_impossible_check)
        .ok()
}

/// The castling rights that ply took, as squares of their rooks.
fn lost_at(line: &Line, ply: usize) -> Bitboard {
    let rights = |ply: usize| {
        line.position_at(ply)
            .map_or(Bitboard::EMPTY, |p| p.castles().castling_rights())
    };
    rights(ply - 1) & !rights(ply)
}
