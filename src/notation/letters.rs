//! Piece letters of other languages: typed, and shown by choice. Inside the program, and in every PGN file that it writes,
//! a piece has its English letter.
//!
//! The letters are those that the PGN standard of 1994 lists for local presentation (section 17); those of Russian and
//! Ukrainian are common practice, no source. Left out is the pawn's letter, which nobody writes before a move: so `B` in
//! German stays the bishop that it is in English.
//!
//! A letter that both languages have means what the chosen language says: with French `Rf3` is the king. A letter that it
//! has not means what it does in English: with French `Nf3` is a knight.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use super::parse;

/// Whose letters. English is the default.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum Letters {
    #[default]
    English,
    Czech,
    Danish,
    Dutch,
    Estonian,
    Finnish,
    French,
    German,
    Hungarian,
    Icelandic,
    Italian,
    Norwegian,
    Polish,
    Portuguese,
    Romanian,
    Russian,
    Spanish,
    Swedish,
    Ukrainian,
    /// The signs of the pieces instead of letters.
    Figurines,
}

/// The English letters in the order of the table.
pub(super) const ENGLISH: [char; 5] = ['K', 'Q', 'R', 'B', 'N'];

/// Name, code of the language (ISO 639-1) and the letters of king, queen, rook, bishop and knight.
pub(super) type Row = (Letters, &'static str, &'static str, [&'static str; 5]);

pub(super) const TABLE: [Row; 20] = [
    (Letters::English, "english", "en", ["K", "Q", "R", "B", "N"]),
    (Letters::Czech, "czech", "cs", ["K", "D", "V", "S", "J"]),
    (Letters::Danish, "danish", "da", ["K", "D", "T", "L", "S"]),
    (Letters::Dutch, "dutch", "nl", ["K", "D", "T", "L", "P"]),
    (
        Letters::Estonian,
        "estonian",
        "et",
        ["K", "L", "V", "O", "R"],
    ),
    (Letters::Finnish, "finnish", "fi", ["K", "D", "T", "L", "R"]),
    (Letters::French, "french", "fr", ["R", "D", "T", "F", "C"]),
    (Letters::German, "german", "de", ["K", "D", "T", "L", "S"]),
    (
        Letters::Hungarian,
        "hungarian",
        "hu",
        ["K", "V", "B", "F", "H"],
    ),
    (
        Letters::Icelandic,
        "icelandic",
        "is",
        ["K", "D", "H", "B", "R"],
    ),
    (Letters::Italian, "italian", "it", ["R", "D", "T", "A", "C"]),
    (
        Letters::Norwegian,
        "norwegian",
        "no",
        ["K", "D", "T", "L", "S"],
    ),
    (Letters::Polish, "polish", "pl", ["K", "H", "W", "G", "S"]),
    (
        Letters::Portuguese,
        "portuguese",
        "pt",
        ["R", "D", "T", "B", "C"],
    ),
    (
        Letters::Romanian,
        "romanian",
        "ro",
        ["R", "D", "T", "N", "C"],
    ),
    (
        Letters::Russian,
        "russian",
        "ru",
        ["Кр", "Ф", "Л", "С", "К"],
    ),
    (Letters::Spanish, "spanish", "es", ["R", "D", "T", "A", "C"]),
    (Letters::Swedish, "swedish", "sv", ["K", "D", "T", "L", "S"]),
    (
        Letters::Ukrainian,
        "ukrainian",
        "uk",
        ["Кр", "Ф", "Т", "С", "К"],
    ),
    (
        Letters::Figurines,
        "figurines",
        "figurines",
        ["♔", "♕", "♖", "♗", "♘"],
    ),
];

/// A name that stands for no letters.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", tr!("'{name}' is none of the letters; these are: {all}", all = Letters::names().join(", ")))]
pub struct UnknownLetters {
    name: String,
}

impl Letters {
    /// What can be chosen, in the order in which it is listed.
    #[must_use]
    pub fn names() -> Vec<&'static str> {
        TABLE.iter().map(|(_, name, ..)| *name).collect()
    }

    /// By name or code of the language, in any case.
    ///
    /// # Errors
    /// There are none of that name.
    pub fn named(name: &str) -> Result<Self, UnknownLetters> {
        let wanted = name.trim().to_lowercase();
        let found = TABLE
            .iter()
            .find(|(_, name, code, _)| *name == wanted || *code == wanted);
        found.map(|(letters, ..)| *letters).ok_or(UnknownLetters {
            name: crate::text::safe(name.trim()).into_owned(),
        })
    }

    #[must_use]
    pub fn name(self) -> &'static str {
        self.row().1
    }

    /// King, queen, rook, bishop and knight.
    #[must_use]
    pub fn of_pieces(self) -> [&'static str; 5] {
        self.row().3
    }

    fn row(self) -> &'static Row {
        TABLE
            .iter()
            .find(|(letters, ..)| *letters == self)
            .unwrap_or(&TABLE[0])
    }

    /// A typed word with English letters where it is a move in these; any other word as it is. What stands behind the
    /// move without a letter in it (a verdict) stays.
    #[must_use]
    pub fn typed_word<'t>(self, word: &'t str) -> Cow<'t, str> {
        // Figurines are read in every language.
        if matches!(self, Self::English | Self::Figurines) || word.starts_with("O-O") {
            return Cow::Borrowed(word);
        }
        let english = self.in_english(word, false);
        if let Some(english) = english.filter(|e| is_move(e)) {
            return Cow::Owned(english);
        }
        // Small letters only where the word is nothing else: 'sf3', never 'dxe4'.
        if !is_move(word)
            && let Some(english) = self.in_english(word, true).filter(|e| is_move(e))
        {
            return Cow::Owned(english);
        }
        Cow::Borrowed(word)
    }

    /// The word with its letters exchanged; `None` where it has none of these.
    fn in_english(self, word: &str, small: bool) -> Option<String> {
        let letters = self.of_pieces();
        let (mut out, mut rest, mut any) = (String::new(), word, false);
        while let Some(c) = rest.chars().next() {
            // The longest first: `Кр` before `К`.
            let mut fitting: Vec<(usize, char)> = letters
                .iter()
                .zip(ENGLISH)
                .filter_map(|(local, english)| Some((begins(rest, local, small && !any)?, english)))
                .collect();
            fitting.sort_unstable();
            match fitting.last() {
                Some((length, english)) => {
                    out.push(*english);
                    rest = rest.get(*length..)?;
                    any = true;
                }
                None => {
                    out.push(c);
                    rest = rest.get(c.len_utf8()..)?;
                }
            }
        }
        any.then_some(out)
    }

    /// A text of words, as notes or a score sheet: each that is a move in these letters gets English ones; what stands in
    /// braces is not touched.
    #[must_use]
    pub fn typed<'t>(self, text: &'t str) -> Cow<'t, str> {
        if matches!(self, Self::English | Self::Figurines) {
            return Cow::Borrowed(text);
        }
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        while !rest.is_empty() {
            let (words, comment) = rest.split_at(rest.find('{').unwrap_or(rest.len()));
            out += &each_word(words, |word| self.typed_word(word));
            let end = comment.find('}').map_or(comment.len(), |i| i + 1);
            let (comment, behind) = comment.split_at(end);
            out += comment;
            rest = behind;
        }
        Cow::Owned(out)
    }

    /// PGN that was written by hand: outside of tags and comments a word that is no move of the standard and is one in
    /// these letters gets English ones. A letter that the standard has means what it says there.
    #[must_use]
    pub fn typed_pgn<'t>(self, text: &'t str) -> Cow<'t, str> {
        if matches!(self, Self::English | Self::Figurines) {
            return Cow::Borrowed(text);
        }
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        while !rest.is_empty() {
            let (moves, aside) =
                rest.split_at(rest.find(['{', '[', ';', '"']).unwrap_or(rest.len()));
            out += &each_word(moves, |word| match is_move(word) {
                true => Cow::Borrowed(word),
                false => self.typed_word(word),
            });
            let end = match aside.chars().next() {
                Some('{') => aside.find('}').map(|i| i + 1),
                Some('[') => aside.find(']').map(|i| i + 1),
                Some(';') => aside.find('\n').map(|i| i + 1),
                Some(_) => Some(1),
                None => Some(0),
            };
            let (aside, behind) = aside.split_at(end.unwrap_or(aside.len()));
            out += aside;
            rest = behind;
        }
        Cow::Owned(out)
    }

    /// A text for people with these letters in its moves.
    #[must_use]
    pub fn shown<'t>(self, text: &'t str) -> Cow<'t, str> {
        if self == Self::English {
            return Cow::Borrowed(text);
        }
        let letters = self.of_pieces();
        let mut out: Option<String> = None;
        let mut done = 0;
        for (at, c) in text.char_indices() {
            let Some(place) = ENGLISH.iter().position(|e| *e == c) else {
                continue;
            };
            if !stands_for_a_piece(text, at) {
                continue;
            }
            let out = out.get_or_insert_default();
            out.push_str(text.get(done..at).unwrap_or_default());
            out.push_str(letters.get(place).copied().unwrap_or_default());
            done = at + 1;
        }
        match out {
            None => Cow::Borrowed(text),
            Some(mut out) => {
                out.push_str(text.get(done..).unwrap_or_default());
                Cow::Owned(out)
            }
        }
    }

    /// The same for a page of HTML: tags, style and script stay as they are.
    #[must_use]
    pub fn shown_html<'t>(self, html: &'t str) -> Cow<'t, str> {
        if self == Self::English {
            return Cow::Borrowed(html);
        }
        let mut out = String::with_capacity(html.len());
        let mut rest = html;
        while !rest.is_empty() {
            let (words, tag) = rest.split_at(rest.find('<').unwrap_or(rest.len()));
            out += &self.shown(words);
            let whole = ["style", "script"].iter().find_map(|name| {
                let opened = tag.strip_prefix('<')?.starts_with(name);
                opened.then(|| tag.find(&format!("</{name}>"))).flatten()
            });
            let end = whole.or_else(|| tag.find('>').map(|i| i + 1));
            let (tag, behind) = tag.split_at(end.unwrap_or(tag.len()));
            out += tag;
            // The end of a style is a tag of its own, and never empty.
            rest = behind;
        }
        Cow::Owned(out)
    }
}

impl TryFrom<String> for Letters {
    type Error = UnknownLetters;

    fn try_from(name: String) -> Result<Self, UnknownLetters> {
        Self::named(&name)
    }
}

impl From<Letters> for String {
    fn from(letters: Letters) -> Self {
        letters.name().to_owned()
    }
}

/// How many bytes of `text` are this letter at its beginning.
fn begins(text: &str, letter: &str, small: bool) -> Option<usize> {
    if text.starts_with(letter) {
        return Some(letter.len());
    }
    let lower = letter.to_lowercase();
    (small && text.starts_with(&lower)).then_some(lower.len())
}

/// A move, alone or with signs that are no letters behind it (`Nf3+-`).
fn is_move(word: &str) -> bool {
    if parse(word).is_ok() {
        return true;
    }
    let end = word.rfind(|c: char| c.is_alphanumeric()).map_or(0, |i| {
        i + word
            .get(i..)
            .and_then(|w| w.chars().next())
            .map_or(1, char::len_utf8)
    });
    end < word.len() && word.get(..end).is_some_and(|mv| parse(mv).is_ok())
}

/// Each word of a text, the blanks and brackets between them as they are.
fn each_word<'t>(text: &'t str, change: impl Fn(&'t str) -> Cow<'t, str>) -> Cow<'t, str> {
    let parts =
        |c: char| c.is_whitespace() || matches!(c, '(' | ')' | '{' | '}' | '[' | ']' | ';' | ',');
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while !rest.is_empty() {
        let (word, behind) = rest.split_at(rest.find(parts).unwrap_or(rest.len()));
        out += &change(word);
        let end = behind.find(|c: char| !parts(c)).unwrap_or(behind.len());
        let (between, behind) = behind.split_at(end);
        out += between;
        rest = behind;
    }
    Cow::Owned(out)
}

/// True where the letter at this place is that of a piece in a move: `Nf3`, `Nbd7`, `R1xa3`, `Ng1-f3`, or of a promotion.
/// What stands in a FEN is none: letters, digits and strokes touch it.
fn stands_for_a_piece(text: &str, at: usize) -> bool {
    let touches = |c: char| c.is_alphanumeric() || c == '/';
    let before = text.get(..at).unwrap_or_default();
    let behind = text.get(at + 1..).unwrap_or_default();
    promotes(before, behind, &touches) || {
        let free = !before.chars().next_back().is_some_and(touches);
        free && ends_of_a_step(behind).is_some_and(|rest| {
            !rest.chars().next().is_some_and(touches) || rest.starts_with("e.p")
        })
    }
}

/// `f3`, `bd7`, `1xa3`, `g1-f3`: what follows behind the squares.
fn ends_of_a_step(text: &str) -> Option<&str> {
    let file = |c: char| ('a'..='h').contains(&c);
    let rank = |c: char| ('1'..='8').contains(&c);
    let square = |t: &str| {
        let mut chars = t.chars();
        chars.next().is_some_and(file) && chars.next().is_some_and(rank)
    };
    // With both, one or none of file and rank of where it comes from.
    for (with_file, with_rank) in [(true, true), (true, false), (false, true), (false, false)] {
        let mut rest = text;
        for (with, is) in [
            (with_file, &file as &dyn Fn(char) -> bool),
            (with_rank, &rank),
        ] {
            if with {
                rest = match rest.chars().next() {
                    Some(c) if is(c) => rest.get(1..).unwrap_or_default(),
                    _ => "",
                };
            }
        }
        let taken = rest.trim_start_matches(['x', ':', '×', '-', '–']);
        if square(taken) {
            return taken.get(2..);
        }
    }
    None
}

/// `e8=Q`, `exd8Q`, `e8(Q)`.
fn promotes(before: &str, behind: &str, touches: &dyn Fn(char) -> bool) -> bool {
    let square = before.trim_end_matches(['=', '(']);
    let mut back = square.chars().rev();
    let rank = back.next().is_some_and(|c| matches!(c, '1' | '8'));
    let file = back.next().is_some_and(|c| ('a'..='h').contains(&c));
    // `Rd8Q` is nothing; in `cxd8Q` and `d8Q` a pawn comes before the square, or nothing does.
    let own = back
        .next()
        .is_none_or(|c| !touches(c) || c == 'x' || ('a'..='h').contains(&c));
    rank && file && own && !behind.chars().next().is_some_and(touches)
}
