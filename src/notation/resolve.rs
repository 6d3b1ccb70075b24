//! A token against the legal moves of a position.
//!
//! The position decides, never the letters: the only legal reading is the reading. A pinned twin
//! needs no disambiguation (PGN standard 1994, 8.2.3.4), a superfluous letter does no harm, and a
//! missing or wrong `x`, `+` or `#` never makes a move impossible. Two readings are narrower:
//!
//! - a pawn move that names no file and takes nothing (`d5`) goes up its file; that only `exd5` is
//!   possible there does not make it that capture
//! - a king is castled by naming both squares (`e1g1`, `Ke1-g1`, `e1h1`), not by `Kg1`

use super::intent::fitting;
use super::{Phantom, Reading, Shape, Token, retained, why};
use crate::board::Line;

pub(super) fn reading(token: &Token, line: &Line) -> Reading {
    if token.shape == Shape::Pass {
        return Reading::Pass;
    }
    let mut fits = fitting(&token.shape, line.position());
    match fits.len() {
        0 => Reading::Phantom(Phantom {
            reasons: why::reasons(&token.shape, line),
            retained: retained::ply(&token.shape, line),
        }),
        1 => Reading::Legal(fits.remove(0)),
        _ => Reading::Ambiguous(fits),
    }
}

#[cfg(test)]
#[path = "resolve_tests.rs"]
mod tests;
