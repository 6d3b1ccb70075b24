//! Men that guard something and are made to leave it.

use shakmaty::{Chess, Move, Position};

use super::Played;
use crate::board::{Line, exchange};

/// What the man that takes had guarded.
#[derive(PartialEq, Eq)]
enum Duty {
    One,
    /// And what the first move takes too.
    Two,
}

pub(super) fn is_overload(line: &Line, proof: &[Move]) -> bool {
    neglected(line, proof) == Some(Duty::Two)
}

pub(super) fn is_deflection(line: &Line, proof: &[Move]) -> bool {
    neglected(line, proof) == Some(Duty::One)
}

/// The duty that the answer to the first move leaves: its man takes on the square of the move, and the next move wins
/// by a capture or mates where that man had guarded and guards no longer, which it did not before.
///
/// Known errors: that no other answer does better, and that it is worth what was given for it, is for the line to prove.
fn neglected(line: &Line, proof: &[Move]) -> Option<Duty> {
    let [first, reply, next, ..] = proof else {
        return None;
    };
    let before = line.position();
    let played = Played::new(line, first);
    let (at, target) = (played.arrival(), next.to());
    let guard = reply.from()?;
    if !reply.is_capture() || reply.is_en_passant() || reply.to() != at || target == at {
        return None;
    }
    let mut taken = played.next.clone();
    taken.play_unchecked(reply);
    let guarded = played.next.board().attacks_from(guard).contains(target);
    if !guarded || taken.board().attacks_from(at).contains(target) || !taken.is_legal(next) {
        return None;
    }
    let mates = is_mate(&taken, next);
    if !mates {
        let won = exchange::after_move(&taken, next);
        if !next.is_capture() || won <= exchange::on_square(before, target) {
            return None;
        }
    } else if before.is_legal(next) && is_mate(before, next) {
        return None;
    }
    let both = first.is_capture() && before.board().attacks_from(guard).contains(at);
    Some(if both { Duty::Two } else { Duty::One })
}

fn is_mate(pos: &Chess, mv: &Move) -> bool {
    let mut after = pos.clone();
    after.play_unchecked(mv);
    after.is_checkmate()
}
