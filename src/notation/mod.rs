//! Typed text to a legal move, or to the ordered reasons why it is none.
//!
//! Takes what a player typed, and the [`Line`] that led to the position where he typed it. Gives a
//! [`Reading`]: a legal move, several legal moves, or a *phantom move*: well-formed, not legal
//! there, with why. Only text that is no move of any kind is an error ([`Unreadable`]), told at
//! once and with the bytes it is about.

mod blocker;
mod castling;
mod hand;
mod intent;
mod letters;
#[cfg(test)]
mod letters_tests;
mod men;
mod parse;
mod phantom;
mod resolve;
mod retained;
mod safety;
mod scan;
mod slip;
mod track;
#[cfg(test)]
pub(crate) mod walks;
mod way;
mod why;
mod words;

use std::ops::Range;

use shakmaty::{CastlingSide, Chess, File, Move, Position, Rank, Role, Square};

use crate::board::Line;

pub use hand::by_hand;
pub use letters::{Letters, UnknownLetters};
pub use men::{MEN, piece as piece_name};
pub use phantom::{Attacker, Phantom, Reason};
pub(crate) use scan::shown;

/// What a text says, before any position is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Token {
    pub shape: Shape,
    /// What the writer claims the move does to the other king.
    pub claim: Claim,
}

/// The move as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shape {
    /// A piece or pawn goes to a square. `role` is `None` where two squares alone were given (`e2e4`).
    Step {
        role: Option<Role>,
        file: Option<File>,
        rank: Option<Rank>,
        capture: bool,
        to: Square,
        promotion: Option<Role>,
    },
    /// Two files beside each other, as `ed` or `exd`: a pawn takes from the one on the other, whatever the
    /// rank.
    Takes { from: File, to: File },
    /// `O-O`, `0-0`, `O-O-O`.
    Castle(CastlingSide),
    /// `--`: the side to move passes. Not a move of chess; the PGN import practice for a threat.
    Pass,
}

/// `+` or `#` behind the move.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Claim {
    #[default]
    None,
    Check,
    Mate,
}

/// A typed text in the light of the position where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reading {
    /// The one legal move it can mean.
    Legal(Move),
    /// Several legal moves fit; which one is asked after the commit, never before.
    Ambiguous(Vec<Move>),
    /// Well-formed, not legal there.
    Phantom(Phantom),
    /// The side to move passes.
    Pass,
    /// There is no position to read it in: it stands below a phantom or an ambiguous move.
    Unplaced,
}

/// Text that is no move of any kind.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", tr!("'{}' is not a move: {why}", scan::shown(text)))]
pub struct Unreadable {
    /// The whole text, exactly as given; the message shows it cut and safe for a terminal.
    pub text: String,
    /// The bytes of `text` that cannot be read.
    pub span: Range<usize>,
    /// What was found there, and what was expected.
    pub why: String,
}

/// Reads the shape of a move, without any position.
///
/// # Errors
/// The text is no move of any kind.
pub fn parse(text: &str) -> Result<Token, Unreadable> {
    parse::token(text)
}

/// Reads a token in the position that `line` has reached.
#[must_use]
pub fn resolve(token: &Token, line: &Line) -> Reading {
    resolve::reading(token, line)
}

/// The legal moves that a token can mean in a position; as [`resolve`], for those who have no use for
/// reasons. Empty for a pass.
#[must_use]
pub fn meanings(token: &Token, pos: &Chess) -> Vec<Move> {
    intent::fitting(&token.shape, pos)
}

/// True where the move is possible and is written as mate, and is none.
///
/// Where the text has several legal meanings, none of them mates.
#[must_use]
pub fn false_mate_claim(token: &Token, line: &Line) -> bool {
    if token.claim != Claim::Mate {
        return false;
    }
    let mates = |mv: &Move| {
        let mut after = line.position().clone();
        after.play_unchecked(mv);
        after.is_checkmate()
    };
    let meant = intent::fitting(&token.shape, line.position());
    !meant.is_empty() && !meant.iter().any(mates)
}

/// The legal moves that one edit of the text would have written (a slip of the pen): a file or rank
/// one off, another or a forgotten piece letter, another promotion, castling to the other side.
#[must_use]
pub fn slips(token: &Token, line: &Line) -> Vec<Move> {
    slip::slips(token, line)
}
