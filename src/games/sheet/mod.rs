//! A score sheet, typed as it was written at the board, and what it must have said where it does not fit.
//!
//! Takes text ([`read()`]): moves in any way of writing them, clock times where they were noted, the head of the sheet.
//! Gives the game ([`fit()`]): the moves as far as the sheet fits, and where it does not fit the ways to read it with one or
//! two slips of the pen, the likeliest first ([`Repair`]). A slip is one of [`Slip`]: what players get wrong on paper
//! (FIDE Laws of Chess, 8.1: moves are recorded in the course of play, in haste).
//!
//! A repair is searched, not guessed: every legal move in the place of every entry up to the misfit is played on through
//! the rest of the sheet (`path.rs`); those that reach its end are ordered by how little they change what is written
//! (`cost.rs`). Must never know: the engine. What was played is no question of what was good.

mod cost;
mod draft;
mod path;
mod read;
mod repair;
mod wording;

use std::ops::Range;

use shakmaty::{Chess, Color, Move};

use crate::notation::{Token, Unreadable};

pub use draft::{DraftEntry, SheetDraft, SheetLine};
pub use read::{SheetError, read};
pub use repair::fit;
pub use wording::{all_repaired, contradiction, doubt, misfit, repaired};

/// What is written on a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// Tags by the names of the PGN standard (1994, 8.1.1 and 9), in the order of writing.
    pub tags: Vec<(String, String)>,
    /// The moves, from the first.
    pub entries: Vec<Entry>,
    /// The result as PGN has it; `*` where none is written.
    pub result: &'static str,
    /// From where the game starts.
    pub start: Chess,
}

/// One move as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    pub text: String,
    pub token: Result<Token, Unreadable>,
    /// Line of the text, the first being 1.
    pub line: usize,
    /// Its bytes in the text.
    pub span: Range<usize>,
    /// The number that stands before it, and whether it is marked as Black's.
    pub number: Option<(u32, bool)>,
    /// Time on the clock after it, in milliseconds.
    pub clock_ms: Option<u64>,
}

/// A slip of the pen, by the entry where it is (0 is the first).
#[derive(Debug, Clone, PartialEq)]
pub enum Slip {
    /// Another move was played than is written.
    Another { at: usize, played: Move },
    /// Moves before this entry are not on the sheet.
    Missing { at: usize, played: Vec<Move> },
    /// So many entries from this one on were written twice, or were never played.
    TooMany { at: usize, entries: usize },
    /// This entry and the own move after it were written in the other order.
    Swapped { at: usize },
}

impl Slip {
    /// The entry where it is.
    #[must_use]
    pub const fn at(&self) -> usize {
        match self {
            Self::Another { at, .. }
            | Self::Missing { at, .. }
            | Self::TooMany { at, .. }
            | Self::Swapped { at } => *at,
        }
    }
}

/// A way to read the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Repair {
    /// In the order of the sheet.
    pub slips: Vec<Slip>,
    /// The game that it gives.
    pub moves: Vec<Move>,
    /// For each move the entry that says it; `None` where none does.
    pub from: Vec<Option<usize>>,
    /// Entries that it explains, from the first.
    pub fits: usize,
    /// How much it changes what is written; the smaller the likelier (`cost.rs`).
    pub cost: f64,
}

/// What a sheet gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The game as far as the sheet fits as it stands.
    pub moves: Vec<Move>,
    /// The first entry that fits nowhere; `None` where all do.
    pub misfit: Option<usize>,
    /// Entries that are possible in several ways of which the rest of the sheet does not decide, with what was taken.
    pub doubtful: Vec<(usize, Vec<Move>)>,
    /// The ways to read it, the likeliest first; empty where it fits as it stands.
    pub repairs: Vec<Repair>,
}

/// The side and number of the move after so many half-moves from the start.
pub(crate) fn place(start: &Chess, ply: usize) -> (Color, u32) {
    use shakmaty::Position;
    let first = start.turn();
    let half = ply + usize::from(first.is_black());
    let number = u32::try_from(half / 2).unwrap_or(u32::MAX);
    let side = if half.is_multiple_of(2) {
        Color::White
    } else {
        Color::Black
    };
    (side, start.fullmoves().get().saturating_add(number))
}
