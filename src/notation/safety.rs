//! Moves that are possible but for the own king.

use shakmaty::{Bitboard, Board, Chess, Position, Role, Square, attacks};

use super::phantom::{Attacker, Reason};
use super::track::{Stay, since};
use crate::board::Line;

/// Why a piece that can go to `to` may not: empty where the king would not be in check.
pub(super) fn reasons(stay: &Stay, to: Square, line: &Line) -> Vec<Reason> {
    let pos = line.position();
    let Some(king) = pos.board().king_of(stay.color) else {
        return Vec::new();
    };
    let passed = stay.role == Role::Pawn
        && stay.square.file() != to.file()
        && pos.board().piece_at(to).is_none();
    let board = after(pos.board(), stay, to, passed);
    if stay.role == Role::King {
        return attackers(&board, to, stay)
            .into_iter()
            .filter_map(|by| into_check(to, by, line))
            .collect();
    }
    attackers(&board, king, stay)
        .into_iter()
        .filter_map(|by| left_in_check(stay, king, by, passed, line))
        .collect()
}

fn after(board: &Board, stay: &Stay, to: Square, passed: bool) -> Board {
    let mut board = board.clone();
    board.discard_piece_at(stay.square);
    if passed {
        board.discard_piece_at(Square::from_coords(to.file(), stay.square.rank()));
    }
    board.set_piece_at(to, stay.piece());
    board
}

fn attackers(board: &Board, king: Square, stay: &Stay) -> Bitboard {
    board.attacks_to(king, stay.color.other(), board.occupied())
}

fn left_in_check(
    stay: &Stay,
    king: Square,
    by: Square,
    passed: bool,
    line: &Line,
) -> Option<Reason> {
    let pos = line.position();
    if pos.checkers().contains(by) {
        return check(by, line).map(|by| Reason::InCheck { by });
    }
    let shields = attacks::between(by, king) & pos.board().occupied();
    if passed && shields != Bitboard::from(stay.square) {
        let by = attacker(by, king, line, |_| true)?;
        return Some(Reason::OpensCheck { by });
    }
    let shield = stay.piece();
    let on = stay.square;
    let by = attacker(by, king, line, |pos| {
        pos.board().piece_at(on) == Some(shield)
            && pos.board().piece_at(king) == Some(stay.color.king())
            && attacks::between(by, king) & pos.board().occupied() == Bitboard::from(on)
    })?;
    Some(Reason::Pinned {
        role: stay.role,
        on,
        by,
    })
}

/// The check that is given by the piece on `by`.
pub(super) fn check(by: Square, line: &Line) -> Option<Attacker> {
    let king = line.position().board().king_of(line.turn())?;
    attacker(by, king, line, |pos| {
        pos.board().piece_at(king).map(|p| p.role) == Some(Role::King) && attacks(pos, by, king)
    })
}

fn into_check(to: Square, by: Square, line: &Line) -> Option<Reason> {
    let by = attack(by, to, line)?;
    Some(Reason::IntoCheck { to, by })
}

/// The attack of the piece on `by` on a square, the own king taken off the board.
pub(super) fn attack(by: Square, to: Square, line: &Line) -> Option<Attacker> {
    attacker(by, to, line, |pos| attacks(pos, by, to))
}

/// Does what stands on `by` attack the square `to`, seen through the king it attacks?
fn attacks(pos: &Chess, by: Square, to: Square) -> bool {
    let Some(piece) = pos.board().piece_at(by) else {
        return false;
    };
    let mut occupied = pos.board().occupied();
    if let Some(king) = pos.board().king_of(piece.color.other()) {
        occupied.discard(king);
    }
    attacks::attacks(by, piece, occupied).contains(to)
}

/// The piece on `by` as attacker of `to`: since when it stands there with the condition holding, and
/// which square was left then, if that opened the line.
fn attacker(
    by: Square,
    to: Square,
    line: &Line,
    holds: impl Fn(&Chess) -> bool,
) -> Option<Attacker> {
    let piece = line.position().board().piece_at(by)?;
    let since = since(line, |pos| {
        pos.board().piece_at(by) == Some(piece) && holds(pos)
    });
    let opened_from = since
        .and_then(|ply| line.moves().get(ply - 1)?.from())
        .filter(|from| attacks::between(by, to).contains(*from));
    Some(Attacker {
        role: piece.role,
        on: by,
        since,
        opened_from,
    })
}
