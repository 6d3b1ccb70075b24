//! Reading a text character by character, with the byte positions that errors point to.

use std::ops::Range;

use shakmaty::{File, Rank, Role};

use crate::text;

/// What cannot be read: the bytes, and why.
pub(super) type Fault = (Range<usize>, String);

/// Longest piece of a stranger's text that an error repeats, in characters.
const SHOWN_MAX: usize = 40;

/// A place in a text. Copied to try one reading and fall back to another.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cursor<'a> {
    text: &'a str,
    /// Bytes read. Always at the border of two characters, since only whole characters are read.
    pub(super) at: usize,
    /// Where the move begins, behind blanks and a move number.
    pub(super) start: usize,
}

impl<'a> Cursor<'a> {
    /// At the first character of the move: blanks and a move number (`12.`, `12...`) are skipped.
    pub(super) fn new(text: &'a str) -> Self {
        let mut cursor = Self {
            text,
            at: 0,
            start: 0,
        };
        cursor.blanks();
        let mut number = cursor;
        let digits = number.run(|c| c.is_ascii_digit());
        if digits > 0 && number.run(|c| matches!(c, '.' | '…')) > 0 {
            number.blanks();
            cursor = number;
        }
        cursor.start = cursor.at;
        cursor
    }

    /// What is not read yet.
    pub(super) fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    pub(super) fn bump(&mut self) {
        self.at += self.peek().map_or(0, char::len_utf8);
    }

    /// Reads one character where `known` makes something of it.
    pub(super) fn take<T>(&mut self, known: impl Fn(char) -> Option<T>) -> Option<T> {
        let value = known(self.peek()?)?;
        self.bump();
        Some(value)
    }

    /// Reads as long as `wanted` holds, and says how many characters that were.
    pub(super) fn run(&mut self, wanted: impl Fn(char) -> bool) -> usize {
        let mut count = 0;
        while self.peek().is_some_and(&wanted) {
            self.bump();
            count += 1;
        }
        count
    }

    pub(super) fn blanks(&mut self) {
        self.run(char::is_whitespace);
    }

    pub(super) fn word(&mut self, word: &str) -> bool {
        let found = self.rest().starts_with(word);
        if found {
            self.at += word.len();
        }
        found
    }

    pub(super) fn file(&mut self) -> Option<File> {
        self.take(File::from_char)
    }

    pub(super) fn rank(&mut self) -> Option<Rank> {
        self.take(Rank::from_char)
    }

    /// A piece letter or figurine; the small `b` is left to the caller, it is a file as well.
    pub(super) fn role(&mut self) -> Option<Role> {
        let role = self.take(role)?;
        // Variation selectors 15 and 16 only choose how a glyph is drawn.
        self.run(|c| matches!(c, '\u{FE0E}' | '\u{FE0F}'));
        Some(role)
    }

    /// True where a whole square stands next.
    pub(super) fn at_square(&self) -> bool {
        let mut ahead = *self;
        ahead.file().is_some() && ahead.rank().is_some()
    }

    /// The fault that what has been read so far wants something more.
    pub(super) fn missing(&self, why: &str) -> Fault {
        (self.start..self.at, why.to_owned())
    }

    /// The fault that the next character does not fit.
    pub(super) fn wrong(&self, c: char, why: String) -> Fault {
        (self.at..self.at + c.len_utf8(), why)
    }

    /// The fault that everything behind what was read is too much.
    pub(super) fn left_over(&self) -> Fault {
        let rest = self.rest();
        let from = self.at + (rest.len() - rest.trim_start().len());
        let to = self.at + rest.trim_end().len();
        let why = tr!("'{}' is left over behind the move", shown(rest.trim()));
        (from..to, why)
    }
}

fn role(c: char) -> Option<Role> {
    Some(match c {
        'K' | 'k' | '♔' | '♚' => Role::King,
        'Q' | 'q' | '♕' | '♛' => Role::Queen,
        'R' | 'r' | '♖' | '♜' => Role::Rook,
        'B' | '♗' | '♝' => Role::Bishop,
        'N' | 'n' | '♘' | '♞' => Role::Knight,
        'P' | 'p' | '♙' | '♟' => Role::Pawn,
        _ => return None,
    })
}

/// A stranger's text as an error may repeat it: safe for a terminal and not too long.
pub(crate) fn shown(text: &str) -> String {
    let safe = text::safe(text);
    match safe.char_indices().nth(SHOWN_MAX) {
        Some((cut, _)) => format!("{}…", safe.get(..cut).unwrap_or_default()),
        None => safe.into_owned(),
    }
}
