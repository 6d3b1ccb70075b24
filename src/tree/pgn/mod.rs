//! Trees as PGN: the PGN standard of 1994 (edited by S. J. Edwards), in and out.
//!
//! Takes bytes or text; gives [`Game`]s one by one ([`games`]), the trees that a player wrote in one
//! ([`written_trees`]), and a tree as one game in export format ([`write_tree`]).
//!
//! The reader has its own lexer. A reader that drops what it cannot read as a move, or stops at the
//! first move that is not legal, would lose the very thing this program is about: a move that is not
//! possible, written by someone who saw it. Here a variation keeps every move as written, with line
//! and column.
//!
//! # What is read beyond the standard's import format
//!
//! - UTF-8 with or without byte order mark; else the bytes are Windows-1252 (a superset of the
//!   ISO 8859-1 that the standard asks for)
//! - lines that end in LF, CR LF or CR; a blank line does not end a game
//! - every way of writing a move that [`crate::notation`] knows, and `--`, `Z0` for a pass
//! - `!`, `?`, `!!`, `??`, `!?`, `?!` as $1 to $6 (8.2.3.8), also standing alone; signs of judgement
//!   (`+-`, `=`, `±`) as their glyphs
//! - quotes inside a tag value that are not escaped; a game without termination marker; a result
//!   inside a variation (ignored)
//! - `[%clk h:mm:ss]` in a comment: the mover's clock after the move; `[%emt h:mm:ss]`: the time he
//!   took for it. Other `[%...]` commands are
//!   not the writer's words and are left out
//!
//! # What has no place in PGN and how it is written
//!
//! Moves that are not legal, ambiguous texts and passes cannot stand as moves. They are a comment
//! after the move they answer, one for each: `{Written, not legal: Re8 Kf7 (Kd7) Qh5 $18}`. The
//! text behind the colon is movetext without numbers, its comments in `«»`; in there `\{ \} \« \»`
//! and `\\` are written `\(`, `\)`, `\<`, `\>` and `\\`. A choice that is not legal is
//! `{Chosen, not legal: Re8}`; where nothing was chosen the game begins with `{No move chosen.}`.
//! A percentage is `{I expect 65%.}`. Moves that were struck out are not written.

mod comment;
mod decode;
mod lexer;
mod read;
mod sheet;
mod write;
mod written;

use shakmaty::{Chess, Move};

use super::{DEPTH_MAX, Verdict};

pub use decode::decode;
pub use read::Games;
pub use write::{write_game, write_tree, write_tree_with};
pub use written::{Written, written_trees};

/// Deepest nesting of variations.
pub const NESTING_MAX: usize = DEPTH_MAX;
/// Most half-moves of one game, variations included.
pub const MOVES_MAX: usize = super::NODES_MAX;

/// One game as it stands in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Game {
    /// Its place in the file, from 1.
    pub number: usize,
    /// The line of the file in which it begins, from 1.
    pub line: usize,
    /// Tag pairs in the order of the file.
    pub tags: Vec<(String, String)>,
    /// The position before the first move.
    pub start: Chess,
    /// True where a FEN tag gives the start: the game is a written tree as a whole.
    pub from_fen: bool,
    /// Words before the first move.
    pub comment: String,
    /// All moves, variations included, in the order of the file.
    pub moves: Vec<GameMove>,
    /// The main line, as places in `moves`.
    pub main: Vec<usize>,
    /// The moves of the main line. Complete for an ordinary game; of a FEN game, up to the first that
    /// is not legal.
    pub main_moves: Vec<Move>,
    /// What a FEN game says about the choice.
    pub choice: Chosen,
    /// `1-0`, `0-1`, `1/2-1/2` or `*`; `None` where the marker is missing.
    pub result: Option<String>,
}

/// Which move of a FEN game is the writer's choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Chosen {
    /// The first move of the main line.
    #[default]
    Main,
    /// He says that he chose none.
    Nothing,
    /// A move that cannot stand in the main line, as place in [`Game::moves`].
    Aside(usize),
}

/// One half-move of a game.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GameMove {
    /// As written, without number and without `!` and `?`.
    pub text: String,
    pub verdict: Option<Verdict>,
    /// Glyphs that judge the move and not the position.
    pub nags: Vec<u8>,
    pub comment: String,
    /// The mover's clock after the move, in milliseconds.
    pub clock_ms: Option<u64>,
    /// The time spent on the move, in milliseconds, where the file gives it by itself (`[%emt ...]`).
    pub elapsed_ms: Option<u64>,
    /// Where it stands in the file, both from 1; columns count characters.
    pub line: usize,
    pub column: usize,
    /// The move it answers, as place in [`Game::moves`]; `None` at the start.
    pub parent: Option<usize>,
}

impl Game {
    /// The value of a tag, unless it is empty or says unknown.
    #[must_use]
    pub fn tag(&self, name: &str) -> Option<&str> {
        self.tags
            .iter()
            .find(|(n, _)| n == name)
            .map(|(_, v)| v.as_str())
            .filter(|v| !v.is_empty() && *v != "?")
    }

    /// The answers to a move (`None`: the first moves), in the order of the file.
    #[must_use]
    pub fn children(&self) -> Children {
        let mut children = Children {
            of: vec![Vec::new(); self.moves.len()],
            first: Vec::new(),
        };
        for (i, mv) in self.moves.iter().enumerate() {
            match mv.parent.and_then(|p| children.of.get_mut(p)) {
                Some(siblings) => siblings.push(i),
                None => children.first.push(i),
            }
        }
        children
    }
}

/// Who answers whom in a game, as places in [`Game::moves`].
#[derive(Debug, Clone)]
pub struct Children {
    of: Vec<Vec<usize>>,
    first: Vec<usize>,
}

impl Children {
    /// The answers to a move; with `None` the first moves.
    #[must_use]
    pub fn of(&self, parent: Option<usize>) -> &[usize] {
        match parent {
            None => &self.first,
            Some(i) => self.of.get(i).map_or(&[], Vec::as_slice),
        }
    }
}

/// Why a game could not be read. The games after it can.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", tr!("line {line}, column {column} (game {game}): '{token}': {why}"))]
pub struct PgnError {
    /// Line of the file, from 1.
    pub line: usize,
    /// Characters into the line, from 1.
    pub column: usize,
    /// Which game of the file, from 1.
    pub game: usize,
    /// The text it is about, cut and safe for a terminal.
    pub token: String,
    /// What is wrong with it.
    pub why: String,
}

/// The games of a text, one by one. A game that cannot be read is an error in its place, and reading
/// goes on with the next.
#[must_use]
pub fn games(text: &str) -> Games<'_> {
    Games::new(text)
}

/// The games of a text with every comment and glyph as it stands: no comment is read for what it says,
/// each makes one line of [`GameMove::comment`], and all glyphs are in [`GameMove::nags`].
#[must_use]
pub fn games_as_they_stand(text: &str) -> Games<'_> {
    Games::literal(text)
}

#[cfg(test)]
mod tests;
