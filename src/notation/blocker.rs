//! What stands in the way.

use shakmaty::{Position, Square};

use super::Reason;
use super::track::since;
use crate::board::Line;

/// The reason that something stands on a square.
pub(super) fn occupied(on: Square, line: &Line) -> Option<Reason> {
    let piece = line.position().board().piece_at(on)?;
    Some(Reason::Occupied {
        role: piece.role,
        on,
        yours: piece.color == line.turn(),
        since: since(line, |pos| pos.board().piece_at(on) == Some(piece)),
    })
}
