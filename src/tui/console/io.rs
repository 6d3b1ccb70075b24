//! Lines in, lines out, and what both halves of a sitting say.

use std::io::{BufRead, Write};

use shakmaty::{Chess, Color, Position, Role};

use crate::notation::MEN;
use crate::text;
use crate::tui::TuiError;

/// Columns of what is written.
pub(crate) const WIDTH: usize = 78;

/// The next line; `None` at the end of the input. What is no text is made readable.
pub(crate) fn next_line(input: &mut dyn BufRead) -> Result<Option<String>, TuiError> {
    let mut bytes = Vec::new();
    let read = input.read_until(b'\n', &mut bytes);
    match read.map_err(|e| TuiError::Lines(e.to_string()))? {
        0 => Ok(None),
        _ => Ok(Some(String::from_utf8_lossy(&bytes).trim().to_owned())),
    }
}

pub(crate) fn say(out: &mut dyn Write, words: &str) -> Result<(), TuiError> {
    for line in words.lines() {
        writeln!(out, "{}", text::safe(line)).map_err(|e| unwritten(&e))?;
    }
    out.flush().map_err(|e| unwritten(&e))
}

fn unwritten(error: &std::io::Error) -> TuiError {
    match error.kind() {
        std::io::ErrorKind::BrokenPipe => TuiError::Gone,
        _ => TuiError::Lines(error.to_string()),
    }
}

/// The men of one side with their squares, the king first.
pub(crate) fn men(position: &Chess, color: Color) -> Vec<String> {
    let board = position.board();
    let of = |role: Role| {
        board
            .by_piece(role.of(color))
            .into_iter()
            .map(move |square| match role {
                Role::Pawn => square.to_string(),
                role => format!("{}{square}", role.upper_char()),
            })
    };
    MEN.into_iter().flat_map(of).collect()
}
