//! The ordered reasons why a shape has no legal meaning in a position.
//!
//! The pieces that the text can mean are looked for on the board first, then in the past of the
//! line. One that could go there but for something in its way gives that as reason; where there is
//! none, pieces that left or were captured do, then pieces that simply do not move like that.

use shakmaty::{Chess, Color, EnPassantMode, Position, Role, Square};

use super::blocker::occupied;
use super::intent::MoveIntent;
use super::track::{End, Stay, put_back, since, stays};
use super::way::{Way, way};
use super::{Reason, Shape, castling, safety};
use crate::board::Line;

/// Never empty for a shape that fits no legal move.
pub(super) fn reasons(shape: &Shape, line: &Line) -> Vec<Reason> {
    let mut reasons = match (shape, MoveIntent::of(shape)) {
        (Shape::Castle(side), _) => castling::reasons(*side, line),
        (Shape::Takes { from, to }, _) => {
            step(&MoveIntent::of_takes(line.position(), *from, *to), line)
        }
        (_, Some(wish)) => match castling::meant(&wish, line) {
            Some(side) => castling::reasons(side, line),
            None => step(&wish, line),
        },
        (_, None) => Vec::new(),
    };
    // Stable: within one kind and ply the order of the squares stays.
    reasons.sort_by_key(|r| (r.order(), std::cmp::Reverse(r.ply().unwrap_or(0))));
    let mut told = Vec::new();
    reasons.retain(|r| {
        let new = !told.contains(r);
        told.push(r.clone());
        new
    });
    reasons
}

fn step(wish: &MoveIntent, line: &Line) -> Vec<Reason> {
    let us = line.turn();
    let stays = stays(line);
    let (here, gone): (Vec<Stay>, Vec<Stay>) = stays
        .iter()
        .filter(|s| s.color == us && wish.names(s.role, s.square))
        .partition(|s| s.end.is_none());
    if here.is_empty() && gone.is_empty() {
        return vec![none_such(wish, line, &stays)];
    }
    let mut reasons: Vec<Reason> = here
        .iter()
        .flat_map(|stay| hindered(stay, wish, line))
        .collect();
    let reaches = !reasons.is_empty();
    reasons.extend(left(&gone, wish, line, &stays, reaches));
    if !reaches {
        reasons.extend(here.iter().map(|s| Reason::DoesNotReach {
            role: s.role,
            from: s.square,
        }));
    }
    reasons
}

fn none_such(wish: &MoveIntent, line: &Line, stays: &[Stay]) -> Reason {
    match (wish.role, wish.from()) {
        (Some(role), _)
            if stays
                .iter()
                .any(|s| s.color == line.turn() && s.role == role) =>
        {
            Reason::NoneOn {
                role,
                file: wish.file,
                rank: wish.rank,
            }
        }
        (Some(role), _) => Reason::NoSuchPiece { role },
        (None, from) => {
            // Two squares were given, or there would be a role.
            let on = from.unwrap_or(wish.to);
            match line.position().board().role_at(on) {
                Some(role) => Reason::NotYours { role, on },
                None => Reason::NothingOn { on },
            }
        }
    }
}

/// What keeps a piece that is there from going where its way of moving would take it; empty where
/// it does not move like that.
fn hindered(stay: &Stay, wish: &MoveIntent, line: &Line) -> Vec<Reason> {
    let pos = line.position();
    let mut reasons = match way(pos.board(), stay, wish.to, passed(pos)) {
        Way::None => return Vec::new(),
        Way::Clear => safety::reasons(stay, wish.to, line),
        Way::Blocked(squares) => squares.iter().filter_map(|s| occupied(*s, line)).collect(),
        Way::NothingToTake => vec![nothing_to_take(stay, wish.to, line)],
    };
    if wish.promotion.is_some() && stay.role != Role::Pawn {
        reasons.push(Reason::NotAPawn {
            role: stay.role,
            on: stay.square,
        });
    } else if wish.promotion.is_some() && wish.to.rank() != last_rank(stay.color) {
        reasons.push(Reason::NoPromotionOn { on: wish.to });
    }
    reasons
}

/// The square on which a pawn can be taken in passing, were it not for the king.
fn passed(pos: &Chess) -> Option<Square> {
    pos.ep_square(EnPassantMode::Always)
}

fn last_rank(color: Color) -> shakmaty::Rank {
    color.fold_wb(shakmaty::Rank::Eighth, shakmaty::Rank::First)
}

fn nothing_to_take(stay: &Stay, to: Square, line: &Line) -> Reason {
    let them = line.turn().other();
    let beside = Square::from_coords(to.file(), stay.square.rank());
    let fifth = stay
        .color
        .fold_wb(shakmaty::Rank::Fifth, shakmaty::Rank::Fourth);
    let pawn = Some(them.pawn());
    if stay.square.rank() == fifth && line.position().board().piece_at(beside) == pawn {
        let came = since(line, |pos| pos.board().piece_at(beside) == pawn);
        match came {
            Some(ply) if !is_double_step(line, ply) => {}
            ply => return Reason::EnPassantOver { pawn: beside, ply },
        }
    }
    Reason::NothingToTake {
        on: to,
        gone: last_gone(line, to, them),
    }
}

fn is_double_step(line: &Line, ply: usize) -> bool {
    line.moves().get(ply - 1).is_some_and(|mv| {
        mv.role() == Role::Pawn && mv.from().is_some_and(|f| f.distance(mv.to()) == 2)
    })
}

/// The last ply at which a piece of that side went from the square.
fn last_gone(line: &Line, on: Square, side: Color) -> Option<usize> {
    (1..=line.ply()).rev().find(|ply| {
        line.position_at(ply - 1)
            .is_some_and(|pos| pos.board().color_at(on) == Some(side))
    })
}

/// Reasons from pieces that are no longer where the text has them. Only those whose move would be
/// possible on the board with that one piece put back, and where no piece on the board could move
/// there at all, those that at least move like that, else all.
fn left(
    gone: &[Stay],
    wish: &MoveIntent,
    line: &Line,
    stays: &[Stay],
    other_reason: bool,
) -> Vec<Reason> {
    let pos = line.position();
    let told = |keep: &dyn Fn(&Stay) -> bool| -> Vec<Reason> {
        gone.iter().filter(|s| keep(s)).filter_map(went).collect()
    };
    let possible = told(&|stay| {
        put_back(pos.board(), stay, stays)
            .is_some_and(|board| way(&board, stay, wish.to, passed(pos)) == Way::Clear)
    });
    if !possible.is_empty() || other_reason {
        return possible;
    }
    let moves_so = told(&|stay| way(pos.board(), stay, wish.to, passed(pos)) != Way::None);
    if moves_so.is_empty() {
        told(&|_| true)
    } else {
        moves_so
    }
}

fn went(stay: &Stay) -> Option<Reason> {
    let (end, ply) = stay.end?;
    Some(match end {
        End::Captured => Reason::Captured {
            role: stay.role,
            on: stay.square,
            ply,
        },
        End::Moved => Reason::MovedAway {
            role: stay.role,
            from: stay.square,
            ply,
        },
    })
}

#[cfg(test)]
#[path = "why_tests.rs"]
mod tests;
