//! A stream of PGN bytes, cut into games without reading their moves.
//!
//! The cut is where a tag pair begins a line behind movetext (PGN standard 1994, section 8: a game is its
//! tag pairs and then its movetext), outside comments and escaped lines. Games without tags that stand
//! behind each other stay in one piece; [`crate::tree::pgn::games`] tells them apart.
//!
//! However large the file, and whatever stands in it, no more than one game and one block of the file are
//! held: a comment that is not closed within [`FIELD_MAX`] bytes, and a game larger than [`GAME_MAX`], are
//! cut short with a fault, and what follows is searched for the next game.

use std::io::{self, Read};

use crate::text::FIELD_MAX;

/// Largest game in bytes.
pub const GAME_MAX: usize = 4 << 20;
/// Bytes of a game that is cut short which are kept to name it.
const HEAD: usize = 4096;
const BLOCK: usize = 256 * 1024;

/// The bytes of one game.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// The line of the file on which it begins, from 1.
    pub line: usize,
    /// All of it, or its beginning where there is a fault.
    pub bytes: Vec<u8>,
    pub fault: Option<Fault>,
}

/// Why a game was cut short.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Line of the file, from 1.
    pub line: usize,
    pub why: String,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    LineStart,
    /// A bracket at the start of a line: with a letter behind it a tag pair.
    Bracket,
    Text,
    Tag,
    /// To the end of the line: behind `;`, or a line that `%` escapes.
    Skip,
    Comment,
}

/// Reads the pieces of a stream.
pub struct Pieces<R> {
    reader: R,
    buffer: Vec<u8>,
    /// Where the game begins that is being looked at; what is before it has been handed out.
    from: usize,
    /// Next byte to look at.
    at: usize,
    state: State,
    /// Byte and line of the brace that opened the comment.
    opened: (usize, usize),
    /// Movetext of this game has been seen.
    moves: bool,
    line: usize,
    first_line: usize,
    after_return: bool,
    /// The game is cut short: its beginning is kept here.
    broken: Option<Piece>,
    read: u64,
    eof: bool,
}

impl<R: Read> Pieces<R> {
    pub fn new(reader: R) -> Self {
        Self {
            reader,
            buffer: Vec::new(),
            from: 0,
            at: 0,
            state: State::LineStart,
            opened: (0, 1),
            moves: false,
            line: 1,
            first_line: 1,
            after_return: false,
            broken: None,
            read: 0,
            eof: false,
        }
    }

    /// Bytes read from the stream so far.
    pub fn bytes_read(&self) -> u64 {
        self.read
    }

    /// The next game; `None` at the end of the stream.
    ///
    /// # Errors
    /// The stream cannot be read.
    pub fn next(&mut self) -> io::Result<Option<Piece>> {
        loop {
            if let Some(end) = self.scan() {
                return Ok(Some(self.cut(end)));
            }
            if self.eof {
                return Ok(self.last());
            }
            self.fill()?;
        }
    }

    fn fill(&mut self) -> io::Result<()> {
        if self.broken.is_some() && self.state != State::Bracket {
            // Nothing before here can still be needed.
            self.from = self.at;
        }
        self.buffer.drain(..self.from);
        self.at -= self.from;
        self.opened.0 = self.opened.0.saturating_sub(self.from);
        self.from = 0;
        let old = self.buffer.len();
        self.buffer.resize(old + BLOCK, 0);
        let space = self.buffer.get_mut(old..).unwrap_or_default();
        let got = loop {
            match self.reader.read(space) {
                Err(e) if e.kind() == io::ErrorKind::Interrupted => {}
                done => break done,
            }
        };
        let got = got.inspect_err(|_| self.buffer.truncate(old))?;
        self.buffer.truncate(old + got);
        self.read += got as u64;
        self.eof = got == 0;
        Ok(())
    }

    /// Goes on over the bytes that are there; where the next game begins, if one does.
    fn scan(&mut self) -> Option<usize> {
        while let Some(&byte) = self.buffer.get(self.at) {
            let here = self.at;
            self.at += 1;
            let line_end = byte == b'\n' || byte == b'\r';
            if line_end {
                self.line += usize::from(byte == b'\r' || !self.after_return);
            }
            self.after_return = byte == b'\r';
            if self.step(byte, here, line_end) {
                return Some(here - 1);
            }
            if here - self.from >= GAME_MAX && self.broken.is_none() {
                let why = tr!("a game is at most {} MiB long", GAME_MAX >> 20);
                self.break_off(self.first_line, why);
            }
        }
        None
    }

    /// Takes one byte; true where a game begins with the byte before it.
    fn step(&mut self, byte: u8, here: usize, line_end: bool) -> bool {
        match self.state {
            State::Comment => self.in_comment(byte, here),
            State::Skip | State::Tag | State::Text if line_end => self.state = State::LineStart,
            State::Skip | State::Tag => {}
            State::Bracket if byte.is_ascii_alphanumeric() => {
                self.state = State::Tag;
                return self.moves;
            }
            State::Bracket => {
                self.state = State::Text;
                self.moves = true;
                return self.step(byte, here, line_end);
            }
            State::LineStart => self.at_line_start(byte, here, line_end),
            State::Text => self.in_text(byte, here),
        }
        false
    }

    fn in_comment(&mut self, byte: u8, here: usize) {
        let (opened, line) = self.opened;
        if byte == b'}' {
            self.state = State::Text;
        } else if here - opened > FIELD_MAX + 1 {
            let why = tr!("this comment is not closed within {FIELD_MAX} bytes");
            self.break_off(line, why);
            // Perhaps the brace is missing and other games stand in what looked like words.
            (self.at, self.line) = (opened + 1, line);
        }
    }

    fn at_line_start(&mut self, byte: u8, here: usize, line_end: bool) {
        match byte {
            b'%' => self.state = State::Skip,
            b'[' => self.state = State::Bracket,
            _ if line_end || byte == b' ' || byte == b'\t' => {}
            // A byte order mark, also of a file that was appended to another.
            0xEF | 0xBB | 0xBF => {}
            _ => {
                self.state = State::Text;
                self.in_text(byte, here);
            }
        }
    }

    fn in_text(&mut self, byte: u8, here: usize) {
        self.moves = true;
        match byte {
            b'{' if self.broken.is_none() => {
                self.state = State::Comment;
                self.opened = (here, self.line);
            }
            b';' => self.state = State::Skip,
            _ => {}
        }
    }

    fn break_off(&mut self, line: usize, why: String) {
        let game = self.buffer.get(self.from..).unwrap_or_default();
        self.broken = Some(Piece {
            line: self.first_line,
            bytes: game.iter().take(HEAD).copied().collect(),
            fault: Some(Fault { line, why }),
        });
        self.state = State::Text;
    }

    /// The game before the byte `end`; the next one begins there.
    fn cut(&mut self, end: usize) -> Piece {
        let bytes = self.buffer.get(self.from..end).unwrap_or_default();
        let bytes = bytes.to_vec();
        self.from = end;
        let line = std::mem::replace(&mut self.first_line, self.line);
        self.moves = false;
        self.broken.take().unwrap_or(Piece {
            line,
            bytes,
            fault: None,
        })
    }

    fn last(&mut self) -> Option<Piece> {
        let mut rest = self.buffer.get(self.from..).unwrap_or_default().iter();
        if self.broken.is_none() && rest.all(u8::is_ascii_whitespace) {
            return None;
        }
        Some(self.cut(self.buffer.len()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pieces(text: &[u8]) -> Vec<Piece> {
        let mut all = Vec::new();
        let mut pieces = Pieces::new(text);
        while let Some(piece) = pieces.next().unwrap() {
            all.push(piece);
        }
        all
    }

    fn cuts(text: &str) -> Vec<(usize, String)> {
        let of = |p: Piece| (p.line, String::from_utf8(p.bytes).unwrap());
        pieces(text.as_bytes()).into_iter().map(of).collect()
    }

    #[test]
    fn games_are_cut_at_their_tags() {
        let one = "[Event \"a\"]\n[White \"b\"]\n\n1. e4 *\n\n";
        let two = "[Event \"c\"]\r\n\r\n1. d4 {[x]\r\n[y] } *\r\n";
        let found = cuts(&format!("{one}{two}\u{FEFF}[Event \"d\"]\n"));
        let lines: Vec<usize> = found.iter().map(|f| f.0).collect();
        assert_eq!(lines, [1, 6, 10]);
        assert_eq!(found[0].1, one);
        assert!(found[1].1.starts_with(two));
    }

    #[test]
    fn what_only_looks_like_a_tag_is_none() {
        for text in [
            "1. e4 {\n[Event \"a\"]\n} e5 *",
            "1. e4 ; {\n e5 *",
            "1. e4 e5\n%[Event \"a\"]\n2. d4 *",
            "1. e4 e5\n[%clk 1]\n2. d4 *",
            "[Event \"{\"]\n[White \"a\"]\n1. e4 *",
        ] {
            assert_eq!(cuts(text).len(), 1, "{text}");
        }
    }

    #[test]
    fn a_comment_without_end_does_not_swallow_the_games_behind_it() {
        let filler = "x".repeat(FIELD_MAX);
        let text = format!(
            "[White \"a\"]\n1. e4 {{ oh\n[White \"b\"]\n1. d4 *\n[White \"c\"]\n1. {{{filler}}} *\n"
        );
        let found = pieces(text.as_bytes());
        assert_eq!(found.len(), 3);
        let fault = found[0].fault.clone().unwrap();
        insta::assert_snapshot!(format!("{}: {}", fault.line, fault.why), @"2: this comment is not closed within 65536 bytes");
        assert_eq!((found[1].line, found[2].line), (3, 5));
        assert_eq!(found[2].fault, None);
    }

    /// A hundred megabytes in one comment, and a game behind it; what is held stays small.
    #[test]
    fn an_endless_comment_is_bounded() {
        let start = io::Cursor::new(b"[White \"a\"]\n1. e4 {".to_vec());
        let long = io::repeat(b'x').take(100 << 20);
        let end = io::Cursor::new(b"} e5 *\n[White \"b\"]\n1. d4 *\n".to_vec());
        let mut pieces = Pieces::new(start.chain(long).chain(end));
        let mut found = 0;
        while let Some(piece) = pieces.next().unwrap() {
            found += 1;
            assert!(piece.bytes.len() < 2 * HEAD);
            assert!(pieces.buffer.capacity() < 4 * BLOCK + GAME_MAX);
        }
        assert_eq!(found, 2);
    }
}
