//! The tokens of PGN import format (PGN standard 1994, section 7), with their places.

use crate::text::FIELD_MAX;

/// A token of the movetext.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Token<'a> {
    Open,
    Close,
    Comment(&'a str),
    Nag(u8),
    /// Termination marker.
    Result(&'a str),
    /// Anything else: a move, a sign.
    Word(&'a str),
}

/// What cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Fault {
    /// Byte of the text at which it begins.
    pub at: usize,
    pub token: String,
    pub why: String,
}

impl Fault {
    pub(super) fn new(at: usize, token: &str, why: impl Into<String>) -> Self {
        Self {
            at,
            token: token.to_owned(),
            why: why.into(),
        }
    }
}

/// A place in the text that only moves forward, so that counting lines stays linear.
#[derive(Debug, Clone, Copy)]
struct Place {
    at: usize,
    line: usize,
    column: usize,
}

#[derive(Debug, Clone)]
pub(super) struct Lexer<'a> {
    text: &'a str,
    pub(super) at: usize,
    place: Place,
    /// The signs that open and close a comment.
    braces: (char, char),
}

const RESULTS: [&str; 4] = ["1-0", "0-1", "1/2-1/2", "*"];

impl<'a> Lexer<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self {
            text,
            at: 0,
            place: Place {
                at: 0,
                line: 1,
                column: 1,
            },
            braces: ('{', '}'),
        }
    }

    /// For movetext that stands inside a comment.
    pub(super) fn inside_comment(text: &'a str) -> Self {
        Self {
            braces: ('«', '»'),
            ..Self::new(text)
        }
    }

    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    pub(super) fn at_end(&self) -> bool {
        self.rest().trim().is_empty()
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// Line and column of a byte, both from 1. Bytes must be asked for in rising order; an earlier
    /// one gets the place of the last.
    pub(super) fn place(&mut self, at: usize) -> (usize, usize) {
        let passed = self.text.get(self.place.at..at).unwrap_or_default();
        let mut chars = passed.chars().peekable();
        while let Some(c) = chars.next() {
            let line_end = c == '\n' || (c == '\r' && !self.text_at(at, chars.peek()));
            if line_end {
                self.place.line += 1;
                self.place.column = 1;
            } else {
                self.place.column += 1;
            }
        }
        self.place.at = self.place.at.max(at);
        (self.place.line, self.place.column)
    }

    /// True where a line feed follows a carriage return.
    fn text_at(&self, at: usize, next: Option<&char>) -> bool {
        match next {
            Some(c) => *c == '\n',
            None => self.text.get(at..).is_some_and(|t| t.starts_with('\n')),
        }
    }

    /// Skips blanks and escaped lines (section 6: `%` in the first column).
    pub(super) fn blanks(&mut self) {
        loop {
            let rest = self.rest();
            let trimmed = rest.trim_start_matches(|c: char| c.is_whitespace() || c == '\u{FEFF}');
            self.at += rest.len() - trimmed.len();
            if !(trimmed.starts_with('%') && self.at_line_start()) {
                return;
            }
            self.at += line_end(trimmed);
        }
    }

    fn at_line_start(&self) -> bool {
        self.text
            .get(..self.at)
            .is_none_or(|t| t.is_empty() || t.ends_with(['\n', '\r', '\u{FEFF}']))
    }

    /// True where a tag pair stands next: a bracket and a letter, so not `[%clk`.
    pub(super) fn at_tag(&self) -> bool {
        let mut chars = self.rest().chars();
        chars.next() == Some('[')
            && chars
                .find(|c| !matches!(c, ' ' | '\t'))
                .is_some_and(|c| c.is_ascii_alphanumeric())
    }

    /// A tag pair (section 8.1): `[Name "value"]`, on one line.
    pub(super) fn tag(&mut self) -> Result<(String, String), Fault> {
        const FORM: &str = tr_later!("a tag is written [Name \"value\"] on one line");
        let rest = self.rest();
        let end = line_end(rest).min(rest.floor_char_boundary(FIELD_MAX));
        let line = rest.get(..end).unwrap_or_default();
        let fault = |lexer: &mut Self| {
            let at = lexer.at;
            lexer.at += line.len();
            Fault::new(at, line, crate::translation::text(FORM))
        };
        let Some((name, value)) = line.trim_start_matches('[').split_once('"') else {
            return Err(fault(self));
        };
        let name = name.trim();
        let Some(end) = value_end(value).filter(|_| name.chars().all(is_symbol)) else {
            return Err(fault(self));
        };
        let name_bytes = line.len() - value.len();
        let behind = value.get(end..).unwrap_or_default();
        let bracket = behind.find(']').map_or(0, |i| i + 1);
        self.at += name_bytes + end + bracket;
        Ok((
            name.to_owned(),
            unescaped(value.get(..end).unwrap_or_default()),
        ))
    }

    /// The next token of movetext and the byte at which it begins; `None` at the end of the text and
    /// before a tag pair.
    pub(super) fn next(&mut self) -> Result<Option<(Token<'a>, usize)>, Fault> {
        loop {
            self.blanks();
            let at = self.at;
            let Some(c) = self.peek().filter(|_| !self.at_tag()) else {
                return Ok(None);
            };
            // What is no token (a move number, dots, `e.p.`) has been read, and the loop goes on.
            if let Some(token) = self.token(c)? {
                return Ok(Some((token, at)));
            }
        }
    }

    fn token(&mut self, c: char) -> Result<Option<Token<'a>>, Fault> {
        Ok(match c {
            '.' | '…' => {
                self.at += c.len_utf8();
                None
            }
            '(' if self.en_passant() => None,
            '(' => self.sign(Token::Open),
            ')' => self.sign(Token::Close),
            '$' => Some(self.nag()?),
            ';' => Some(self.rest_of_line()),
            '*' => self.sign(Token::Result("*")),
            c if c == self.braces.0 => Some(self.comment()?),
            '{' | '}' | '[' | ']' | '<' | '>' | '«' | '»' | '"' => {
                let (at, sign) = (self.at, c.to_string());
                self.at += c.len_utf8();
                return Err(Fault::new(at, &sign, tr!("this sign has no meaning here")));
            }
            _ => self.word(),
        })
    }

    fn sign(&mut self, token: Token<'a>) -> Option<Token<'a>> {
        self.at += 1;
        Some(token)
    }

    fn en_passant(&mut self) -> bool {
        let found = ["(e.p.)", "(ep)"]
            .iter()
            .find(|f| self.rest().starts_with(**f));
        self.at += found.map_or(0, |f| f.len());
        found.is_some()
    }

    fn nag(&mut self) -> Result<Token<'a>, Fault> {
        let rest = self.rest();
        let digits = rest[1..].bytes().take_while(u8::is_ascii_digit).count();
        let text = rest.get(..=digits).unwrap_or_default();
        let at = self.at;
        self.at += text.len();
        text.trim_start_matches('$')
            .parse()
            .map(Token::Nag)
            .map_err(|_| Fault::new(at, text, tr!("a glyph is $0 to $255")))
    }

    fn rest_of_line(&mut self) -> Token<'a> {
        let rest = self.rest();
        let end = line_end(rest);
        self.at += end;
        Token::Comment(rest.get(1..end).unwrap_or_default())
    }

    /// A comment in braces; they do not nest (section 5). The closing one is looked for only as far as
    /// a comment may reach, so that many open braces cost no more than their length.
    fn comment(&mut self) -> Result<Token<'a>, Fault> {
        let rest = self.rest();
        let open = self.braces.0.len_utf8();
        let within = rest.floor_char_boundary(open + FIELD_MAX + 2);
        let found = rest.get(open..within).and_then(|t| t.find(self.braces.1));
        if let Some(len) = found {
            self.at += open + len + self.braces.1.len_utf8();
            return Ok(Token::Comment(
                rest.get(open..open + len).unwrap_or_default(),
            ));
        }
        let at = self.at;
        self.at += open;
        let sign = rest.get(..open).unwrap_or_default();
        let why = if within < rest.len() {
            tr!("this comment is not closed within {FIELD_MAX} bytes")
        } else {
            tr!("this comment is not closed").to_owned()
        };
        Err(Fault::new(at, sign, why))
    }

    /// A word up to the next blank or sign, move numbers before it skipped; `None` where only a
    /// number stood there.
    fn word(&mut self) -> Option<Token<'a>> {
        let rest = self.rest();
        if let Some(result) = RESULTS.iter().find(|r| is_word(rest, r)) {
            self.at += result.len();
            return Some(Token::Result(result));
        }
        let mut end = word_end(rest);
        if rest.get(end..).is_some_and(bracketed_promotion) {
            end += 3;
            end += word_end(rest.get(end..).unwrap_or_default());
        }
        // At least one character, or the lexer would stand still.
        let end = end.max(rest.chars().next().map_or(0, char::len_utf8));
        let word = rest.get(..end).unwrap_or_default();
        let number = word.bytes().take_while(u8::is_ascii_digit).count();
        let behind = word.get(number..).unwrap_or_default();
        if number > 0 && (behind.is_empty() || behind.starts_with(['.', '…'])) {
            // `12.Nf3` goes on behind the dots.
            let dots = behind.len() - behind.trim_start_matches(['.', '…']).len();
            self.at += number + dots;
            return None;
        }
        self.at += end;
        (!matches!(word, "e.p." | "ep" | "…")).then_some(Token::Word(word))
    }

    /// After an error: goes on to where the next game may begin, a line with a tag pair behind the
    /// movetext of this one.
    pub(super) fn resync(&mut self) {
        let mut in_movetext = !self.at_tag_line();
        while !self.rest().is_empty() {
            let rest = self.rest();
            self.at += line_end(rest);
            self.blanks();
            let tag = self.at_line_start() && self.at_tag();
            if tag && in_movetext {
                return;
            }
            in_movetext |= !tag;
        }
    }

    /// True where the line that is being read is a tag pair.
    fn at_tag_line(&self) -> bool {
        let before = self.text.get(..self.at).unwrap_or_default();
        let start = before.rfind(['\n', '\r']).map_or(0, |i| i + 1);
        let line = Self {
            at: start,
            ..self.clone()
        };
        line.at_tag()
    }
}

/// Bytes up to the end of the line.
/// What a symbol of the standard (7) may hold after its first character; tag names are symbols here.
pub(super) fn is_symbol(c: char) -> bool {
    c.is_ascii_alphanumeric() || "_+#=:-".contains(c)
}

fn line_end(text: &str) -> usize {
    text.find(['\n', '\r']).unwrap_or(text.len())
}

fn word_end(text: &str) -> usize {
    text.find(|c: char| c.is_whitespace() || "{}()[]<>;$*\"«»\u{FEFF}".contains(c))
        .unwrap_or(text.len())
}

fn is_word(text: &str, word: &str) -> bool {
    text.strip_prefix(word)
        .is_some_and(|behind| word_end(behind) == 0)
}

/// `(Q)` behind a square.
fn bracketed_promotion(text: &str) -> bool {
    let mut chars = text.chars();
    chars.next() == Some('(')
        && chars.next().is_some_and(|c| "QRBNqrbn".contains(c))
        && chars.next() == Some(')')
}

/// Bytes of a tag value: up to a quote that is not escaped and has the bracket behind it.
fn value_end(value: &str) -> Option<usize> {
    let mut escaped = false;
    for (i, c) in value.char_indices() {
        match c {
            '"' if !escaped => {
                let behind = value.get(i + 1..).unwrap_or_default();
                if behind.trim_start().starts_with(']') {
                    return Some(i);
                }
            }
            _ => {}
        }
        escaped = c == '\\' && !escaped;
    }
    None
}

fn unescaped(value: &str) -> String {
    let mut out = String::with_capacity(value.len());
    let mut chars = value.chars().peekable();
    while let Some(c) = chars.next() {
        match (c, chars.peek()) {
            ('\\', Some('"' | '\\')) => out.extend(chars.next()),
            _ => out.push(c),
        }
    }
    out
}
