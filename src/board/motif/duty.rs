//! Men that guard something and are made to leave it.

use shakmaty::{Move, Position};

use super::{Motif, Played, forcing};
use crate::board::{Line, exchange};

/// [`Motif::Deflection`] or [`Motif::Overload`]: the man that answers the first move takes on the square of the move, and the next move wins
/// by a capture or mates where that man had guarded and guards no longer, which it did not before.
///
/// Known errors: that no other answer does better, and that it is worth what was given for it, is for the line to prove.
pub(super) fn neglected(line: &Line, proof: &[Move]) -> Option<Motif> {
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
    if forcing::gives_mate(&taken, next) {
        if before.is_legal(next) && forcing::gives_mate(before, next) {
            return None;
        }
    } else {
        let won = exchange::after_move(&taken, next);
        if !next.is_capture() || won <= exchange::on_square(before, target) {
            return None;
        }
    }
    let both = first.is_capture() && before.board().attacks_from(guard).contains(at);
    Some(if both {
        Motif::Overload
    } else {
        Motif::Deflection
    })
}
