//! Which positions are the same one.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use shakmaty::Chess;

use super::line::{self, FenError};

/// A position without its counters: men, side to move, castling rights, and the square where a capture en
/// passant is legal (the first four fields of a FEN; the same positions in the sense of the FIDE Laws, 9.2.3).
///
/// Printed and kept with `_` between the fields, so that it is one word: as a key in the store, and in a record.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PositionKey(String);

impl PositionKey {
    #[must_use]
    pub fn of(position: &Chess) -> Self {
        let fen = line::fen(position);
        Self(fen.split(' ').take(4).collect::<Vec<_>>().join("_"))
    }

    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The four fields as they stand in a FEN or in EPD (PGN standard 1994, 16.1 and 16.2).
    #[must_use]
    pub fn fields(&self) -> String {
        self.0.replace('_', " ")
    }

    /// The first of them: where the men stand.
    #[must_use]
    pub fn men(&self) -> &str {
        self.0.split('_').next().unwrap_or_default()
    }
}

impl fmt::Display for PositionKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The key of a position in FEN; `board w KQkq -` and the key's own form do as well.
impl FromStr for PositionKey {
    type Err = FenError;

    fn from_str(text: &str) -> Result<Self, FenError> {
        line::read_fen(&text.replace('_', " ")).map(|position| Self::of(&position))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(text: &str) -> PositionKey {
        text.parse().unwrap()
    }

    #[test]
    fn counters_and_squares_that_nothing_can_take_on_do_not_count() {
        let start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR";
        assert_eq!(
            key(&format!("{start} w KQkq - 0 1")).as_str(),
            format!("{start}_w_KQkq_-")
        );
        assert_eq!(
            key(&format!("{start} w KQkq - 0 1")),
            key(&format!("{start} w KQkq - 7 12"))
        );
        let e4 = "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq";
        assert_eq!(key(&format!("{e4} e3 0 1")), key(&format!("{e4} - 0 1")));
        // Here the pawn on d4 can take.
        let d4 = "rnbqkbnr/ppp1pppp/8/8/3pP3/8/PPPP1PPP/RNBQKBNR b KQkq";
        assert_ne!(key(&format!("{d4} e3 0 3")), key(&format!("{d4} - 0 3")));
    }

    #[test]
    fn its_own_form_is_read_back() {
        let one = key("8/8/1KP5/3r4/8/8/8/k7 w - - 4 9");
        assert_eq!(key(one.as_str()), one);
        assert_eq!(key(&one.fields()), one);
        assert_eq!(one.men(), "8/8/1KP5/3r4/8/8/8/k7");
        assert!("8/8/8/8/8/8/8/8 w - -".parse::<PositionKey>().is_err());
    }
}
