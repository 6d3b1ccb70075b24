//! What kind of move a move is, in the terms of the trade.
//!
//! Each motif has its definition and its known errors beside it. The names are those of the training
//! literature (common practice, no source, unless one is given). A move has exactly one *forcing
//! class* (the first of [`Motif::FORCING`] that holds) and any number of other motifs.

use serde::Serialize;
use shakmaty::{Chess, Color, Move, Position, Role, attacks};

use super::Line;

/// One property of a move.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, serde::Deserialize,
)]
#[serde(rename_all = "kebab-case")]
pub enum Motif {
    /// Two pieces attack the king at once.
    DoubleCheck,
    Check,
    /// A pawn reaches the last rank (with or without capturing).
    Promotion,
    Capture,
    /// Not forcing by itself, but if the other side passed, mate in one would follow.
    ThreatOfMate,
    /// None of these.
    Quiet,
    /// To a rook, bishop or knight.
    Underpromotion,
    EnPassant,
    Castling,
    KingMove,
    /// A piece (not a pawn) goes towards its own side of the board.
    Backward,
    /// A piece stays on its rank.
    Sideways,
    /// A piece goes four squares or more in one direction.
    LongMove,
    /// A piece returns to the square it left with its side's last move in this line.
    Switchback,
    /// A check given by a piece that did not move.
    DiscoveredCheck,
    /// A move between a checking piece and the king.
    Interposition,
    /// The other side has no legal move and is not in check.
    Stalemate,
    /// The king is mated.
    Checkmate,
}

impl Motif {
    /// The forcing classes, the most forcing first.
    pub const FORCING: [Self; 6] = [
        Self::DoubleCheck,
        Self::Check,
        Self::Promotion,
        Self::Capture,
        Self::ThreatOfMate,
        Self::Quiet,
    ];
}

/// Checks, captures and promotions: the moves that every calculation must look at first.
#[must_use]
pub fn is_forcing(pos: &Chess, mv: &Move) -> bool {
    mv.is_capture() || mv.promotion().is_some() || gives_check(pos, mv)
}

/// True where the move attacks the other king.
#[must_use]
pub fn gives_check(pos: &Chess, mv: &Move) -> bool {
    let mut next = pos.clone();
    next.play_unchecked(mv);
    next.is_check()
}

/// All motifs of a move in the position that `line` has reached: its forcing class, then the others in
/// the order of their definition.
#[must_use]
pub fn motifs(line: &Line, mv: &Move) -> Vec<Motif> {
    let pos = line.position();
    let mut next = pos.clone();
    next.play_unchecked(mv);
    let mut found = vec![forcing_class(pos, mv, &next)];
    let mut note = |motif, holds: bool| {
        if holds {
            found.push(motif);
        }
    };
    note(
        Motif::Underpromotion,
        mv.promotion().is_some_and(|r| r != Role::Queen),
    );
    note(Motif::EnPassant, mv.is_en_passant());
    note(Motif::Castling, mv.is_castle());
    note(Motif::KingMove, mv.role() == Role::King && !mv.is_castle());
    note(
        Motif::Backward,
        direction(mv, pos.turn()) == Some(Direction::Back),
    );
    note(
        Motif::Sideways,
        direction(mv, pos.turn()) == Some(Direction::Side),
    );
    note(Motif::LongMove, distance(mv) >= 4);
    note(Motif::Switchback, is_switchback(line, mv));
    note(
        Motif::DiscoveredCheck,
        next.checkers().into_iter().any(|s| s != mv.to()) && !mv.is_castle(),
    );
    note(Motif::Interposition, is_interposition(pos, mv));
    note(Motif::Stalemate, next.is_stalemate());
    note(Motif::Checkmate, next.is_checkmate());
    found
}

fn forcing_class(pos: &Chess, mv: &Move, next: &Chess) -> Motif {
    match next.checkers().count() {
        2.. => Motif::DoubleCheck,
        1 => Motif::Check,
        _ if mv.promotion().is_some() => Motif::Promotion,
        _ if mv.is_capture() => Motif::Capture,
        _ if threatens_mate(next, pos.turn()) => Motif::ThreatOfMate,
        _ => Motif::Quiet,
    }
}

/// True where `side`, which has just moved, would mate in one if the other side passed.
fn threatens_mate(next: &Chess, side: Color) -> bool {
    debug_assert_eq!(next.turn(), side.other());
    let Ok(passed) = next.clone().swap_turn() else {
        return false;
    };
    passed.legal_moves().iter().any(|mv| {
        let mut after = passed.clone();
        after.play_unchecked(mv);
        after.is_checkmate()
    })
}

#[derive(PartialEq, Eq)]
enum Direction {
    Forward,
    Side,
    Back,
}

fn direction(mv: &Move, side: Color) -> Option<Direction> {
    let (Move::Normal { role, from, to, .. }, false) = (mv, mv.role() == Role::Pawn) else {
        return None;
    };
    if *role == Role::King {
        return None;
    }
    let forward = i32::from(to.rank()) - i32::from(from.rank());
    Some(match side.fold_wb(forward, -forward) {
        0 => Direction::Side,
        n if n < 0 => Direction::Back,
        _ => Direction::Forward,
    })
}

/// Squares between start and end as a king would walk; 0 for castling.
fn distance(mv: &Move) -> u32 {
    match mv {
        Move::Normal {
            role: Role::Queen | Role::Rook | Role::Bishop,
            from,
            to,
            ..
        } => from.distance(*to),
        _ => 0,
    }
}

fn is_switchback(line: &Line, mv: &Move) -> bool {
    let moves = line.moves();
    let Some(own) = moves.len().checked_sub(2).and_then(|i| moves.get(i)) else {
        return false;
    };
    mv.role() != Role::Pawn
        && own.to() == mv.from().unwrap_or(own.to())
        && own.from() == Some(mv.to())
        && own.role() == mv.role()
}

fn is_interposition(pos: &Chess, mv: &Move) -> bool {
    let (Some(king), Some(checker)) = (pos.our(Role::King).first(), pos.checkers().single_square())
    else {
        return false;
    };
    mv.role() != Role::King && !mv.is_capture() && attacks::between(king, checker).contains(mv.to())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::read_fen;
    use shakmaty::san::San;

    fn of(fen: &str, san: &str) -> Vec<Motif> {
        let line = Line::new(read_fen(fen).unwrap());
        let mv = san
            .parse::<San>()
            .unwrap()
            .to_move(line.position())
            .unwrap();
        motifs(&line, &mv)
    }

    #[test]
    fn each_motif_has_a_yes_and_a_no() {
        let bare = "4k3/8/8/8/8/8/8/R3K3 w Q - 0 1";
        assert_eq!(of(bare, "Ra8+"), [Motif::Check, Motif::LongMove]);
        assert_eq!(of(bare, "Ra4"), [Motif::Quiet]);
        assert_eq!(of(bare, "O-O-O"), [Motif::Quiet, Motif::Castling]);
        assert_eq!(of(bare, "Ke2"), [Motif::Quiet, Motif::KingMove]);
        assert_eq!(
            of("8/P6k/8/8/8/8/8/K7 w - - 0 1", "a8=N"),
            [Motif::Promotion, Motif::Underpromotion]
        );
        assert_eq!(
            of("k7/8/1K6/8/8/8/8/7R w - - 0 1", "Rh8#"),
            [Motif::Check, Motif::LongMove, Motif::Checkmate]
        );
        assert_eq!(
            of("k7/8/1K6/8/8/8/8/1R6 w - - 0 1", "Rh1"),
            [Motif::ThreatOfMate, Motif::Sideways, Motif::LongMove]
        );
        assert_eq!(
            of("k7/8/K7/8/8/8/8/1R6 w - - 0 1", "Rb7"),
            [Motif::Quiet, Motif::LongMove, Motif::Stalemate]
        );
        assert_eq!(
            of("4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 2", "exd6"),
            [Motif::Capture, Motif::EnPassant]
        );
        assert_eq!(
            of("4k3/4N3/8/8/8/8/8/4RK2 w - - 0 1", "Nc6"),
            [Motif::Check, Motif::Backward, Motif::DiscoveredCheck]
        );
        assert_eq!(
            of("4k3/8/3N4/8/8/8/8/4RK2 b - - 0 1", "Kd7"),
            [Motif::Quiet, Motif::KingMove]
        );
        assert_eq!(
            of("4r2k/8/8/8/8/8/3B4/4K3 w - - 0 1", "Be3"),
            [Motif::Quiet, Motif::Interposition]
        );
    }

    #[test]
    fn a_piece_that_goes_back_at_once_is_a_switchback() {
        let mut line = Line::new(read_fen("4k3/8/8/8/8/8/8/R3K3 w - - 0 1").unwrap());
        for san in ["Ra4", "Kd7"] {
            let mv = san
                .parse::<San>()
                .unwrap()
                .to_move(line.position())
                .unwrap();
            line.push(&mv).unwrap();
        }
        let back = "Ra1"
            .parse::<San>()
            .unwrap()
            .to_move(line.position())
            .unwrap();
        assert!(motifs(&line, &back).contains(&Motif::Switchback));
    }
}
