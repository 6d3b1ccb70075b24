//! Why castling is not possible (FIDE Laws of Chess, article 3.8.2).

use shakmaty::{Bitboard, CastlingSide, Position, Rank, Role, Square, attacks};

use super::blocker::occupied;
use super::intent::MoveIntent;
use super::phantom::Reason;
use super::safety;
use super::track::{End, Stay, since, stays};
use crate::board::Line;

/// The wing where a step by the king is castling written with two squares.
pub(super) fn meant(wish: &MoveIntent, line: &Line) -> Option<CastlingSide> {
    let king = home(line, shakmaty::File::E);
    let board = line.position().board();
    let by_king = wish.from() == Some(king)
        && wish.names(Role::King, king)
        && board.piece_at(king) == Some(line.turn().king());
    [CastlingSide::KingSide, CastlingSide::QueenSide]
        .into_iter()
        .filter(|_| by_king)
        .find(|&side| {
            let rook = home(line, rook_file(side));
            wish.to == home(line, side.king_to_file())
                || wish.to == rook && board.piece_at(rook) == Some(line.turn().rook())
        })
}

fn rook_file(side: CastlingSide) -> shakmaty::File {
    match side {
        CastlingSide::KingSide => shakmaty::File::H,
        CastlingSide::QueenSide => shakmaty::File::A,
    }
}

fn home(line: &Line, file: shakmaty::File) -> Square {
    Square::from_coords(file, line.turn().fold_wb(Rank::First, Rank::Eighth))
}

/// Never empty where castling to that side is not legal.
pub(super) fn reasons(side: CastlingSide, line: &Line) -> Vec<Reason> {
    let king = home(line, shakmaty::File::E);
    let rook = home(line, rook_file(side));
    let mut reasons = lost(side, king, rook, line);
    let board = line.position().board();
    if board.piece_at(king) != Some(line.turn().king()) {
        return reasons;
    }
    let between = attacks::between(king, rook) & board.occupied();
    reasons.extend(between.into_iter().filter_map(|s| occupied(s, line)));
    let checks = line.position().checkers().into_iter();
    reasons.extend(
        checks
            .filter_map(|by| safety::check(by, line))
            .map(|by| Reason::InCheck { by }),
    );
    let to = home(line, side.king_to_file());
    for over in attacks::between(king, to) | Bitboard::from(to) {
        reasons.extend(through(over, line));
    }
    reasons
}

fn lost(side: CastlingSide, king: Square, rook: Square, line: &Line) -> Vec<Reason> {
    let us = line.turn();
    if line.position().castles().has(us, side) {
        return Vec::new();
    }
    let ply = since(line, |pos| !pos.castles().has(us, side));
    let then = stays(line)
        .into_iter()
        .filter(|s| s.color == us && (s.square == king || s.square == rook))
        .filter_map(|s| at(&s, ply?));
    let mut reasons: Vec<Reason> = then.collect();
    reasons.push(Reason::CastlingLost { ply });
    reasons
}

fn at(stay: &Stay, ply: usize) -> Option<Reason> {
    match stay.end? {
        (End::Moved, k) if k == ply => Some(Reason::MovedAway {
            role: stay.role,
            from: stay.square,
            ply,
        }),
        (End::Captured, k) if k == ply => Some(Reason::Captured {
            role: stay.role,
            on: stay.square,
            ply,
        }),
        _ => None,
    }
}

fn through(over: Square, line: &Line) -> Vec<Reason> {
    let pos = line.position();
    let them = pos.turn().other();
    let mut occupied = pos.board().occupied();
    if let Some(king) = pos.board().king_of(pos.turn()) {
        occupied.discard(king);
    }
    pos.board()
        .attacks_to(over, them, occupied)
        .into_iter()
        .filter_map(|by| safety::attack(by, over, line))
        .map(|by| Reason::CastlingThroughCheck { over, by })
        .collect()
}
