//! Moves in words played on a board.

use crate::board::Line;
use crate::notation::{self, Reading};

/// Plays moves in SAN as far as they are possible.
#[must_use]
pub fn play(root: &Line, moves: &[String]) -> Line {
    let mut line = root.clone();
    for text in moves {
        let Ok(token) = notation::parse(text) else {
            break;
        };
        let Reading::Legal(mv) = notation::resolve(&token, &line) else {
            break;
        };
        if line.push(&mv).is_err() {
            break;
        }
    }
    line
}
