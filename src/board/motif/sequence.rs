//! What a move is among the moves before and after it.

use shakmaty::{Chess, Move, Position, Role};

use super::{Motif, Played, forcing};
use crate::board::sacrifice::OFFER;
use crate::board::{Line, exchange};

pub(super) fn is_switchback(played: &Played<'_>) -> bool {
    let moves = played.line.moves();
    let Some(own) = moves.len().checked_sub(2).and_then(|i| moves.get(i)) else {
        return false;
    };
    let mv = played.mv;
    mv.role() != Role::Pawn
        && own.to() == mv.from().unwrap_or(own.to())
        && own.from() == Some(mv.to())
        && own.role() == mv.role()
}

/// Known errors: a capture elsewhere that is simply better than retaking is told as an intermezzo; one
/// that comes between other moves than capture and recapture is not seen. In check there is no choice,
/// so no intermezzo.
pub(super) fn is_intermezzo(played: &Played<'_>) -> bool {
    let line = played.line;
    let Some(last) = line.moves().last().or(line.past().last()) else {
        return false;
    };
    last.is_capture()
        && played.mv.to() != last.to()
        && !played.pos.is_check()
        && forcing::class(played) != Motif::Quiet
        && exchange::on_square(played.pos, last.to()) > 0
}

/// Known error: a move that both parries a mate and makes a threat while a piece still hangs counts.
pub(super) fn is_counter_threat(played: &Played<'_>) -> bool {
    let Some(mate) = stands(played) else {
        return false;
    };
    match forcing::class(played) {
        Motif::ThreatOfMate => true,
        Motif::OtherThreat => !mate && forcing::new_threat(played) >= winnings(&played.next),
        _ => false,
    }
}

/// `Some` where a threat of the other side was there before the move and is still there after it: true
/// for mate in one, false for material.
fn stands(played: &Played<'_>) -> Option<bool> {
    if forcing::threatens_mate(played.pos) {
        return forcing::mates(&played.next).then_some(true);
    }
    let passed = played.pos.clone().swap_turn().ok()?;
    let both = winnings(&passed).min(winnings(&played.next));
    (f64::from(both) >= OFFER).then_some(false)
}

/// What the side to move wins by its best capture, in pawns.
fn winnings(pos: &Chess) -> i32 {
    exchange::best_capture(pos).map_or(0, |(won, _)| won)
}

/// Lost anyway: it hangs where it stands and on every square to which it can go without taking, or
/// something else of at least its value hangs too. Known error: a piece that could be defended counts as
/// lost.
pub(super) fn is_desperado(played: &Played<'_>) -> bool {
    let (Some(from), true) = (played.mv.from(), played.mv.is_capture()) else {
        return false;
    };
    if matches!(played.mv.role(), Role::Pawn | Role::King) {
        return false;
    }
    let Ok(passed) = played.pos.clone().swap_turn() else {
        return false;
    };
    exchange::on_square(&passed, from) > 0
        && exchange::on_square(&played.next, played.mv.to()) > 0
        && (is_trapped(played) || another_hangs(played, &passed))
}

fn is_trapped(played: &Played<'_>) -> bool {
    let legal = played.pos.legal_moves();
    let mut away = legal
        .iter()
        .filter(|mv| mv.from() == played.mv.from() && !mv.is_capture());
    away.all(|mv| exchange::after_move(played.pos, mv) < 0)
}

fn another_hangs(played: &Played<'_>, passed: &Chess) -> bool {
    let own = exchange::value(played.mv.role());
    let board = played.pos.board();
    let others = board.by_color(played.side()) & !board.pawns() & !board.kings();
    others
        .into_iter()
        .filter(|s| Some(*s) != played.mv.from())
        .any(|s| exchange::on_square(passed, s) >= own)
}

/// True where the line ends in stalemate, of either side: that is what saves the weaker one.
pub(super) fn ends_in_stalemate(line: &Line, proof: &[Move]) -> bool {
    let end = follow(line, proof);
    end.ply() > line.ply() && end.position().is_stalemate()
}

/// True where a position comes again in the proof and between the two every move of the side that
/// starts it is a check.
pub(super) fn is_perpetual(line: &Line, proof: &[Move]) -> bool {
    let side = line.turn();
    let mut now = line.clone();
    let mut met: Vec<u128> = vec![now.key()];
    // Where the row of checks that still lasts began, in half-moves of the proof.
    let mut since = 0;
    for (ply, mv) in (1..).zip(proof) {
        let ours = now.turn() == side;
        if now.push(mv).is_err() {
            return false;
        }
        if ours && !now.position().is_check() {
            since = ply;
        }
        let key = now.key();
        if met.iter().skip(since).any(|k| *k == key) && ply > since + 1 {
            return true;
        }
        met.push(key);
    }
    false
}

/// The line with as much of the proof as is legal.
fn follow(line: &Line, proof: &[Move]) -> Line {
    let mut end = line.clone();
    for mv in proof {
        if end.push(mv).is_err() {
            break;
        }
    }
    end
}

/// True where every move harms (zugzwang): the side to move would be better off by `delta` if it could
/// pass. `best` and `passed` are its expected scores, 0 to 1, with its best move and after passing; both
/// are the judge's. Passing cannot be asked in check, and a mutual zugzwang needs the same test for the
/// other side.
#[must_use]
pub fn every_move_harms(best: f64, passed: f64, delta: f64) -> bool {
    passed - best >= delta
}
