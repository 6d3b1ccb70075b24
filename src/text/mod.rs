//! Strings that are safe to show in a terminal, their width there, and numbers as people write them.
//!
//! Takes any text, also a stranger's; gives text without control characters and of known width.
//! No chess in here.

mod capped;
mod coded;
pub mod limits;
mod locale;

use std::borrow::Cow;

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

pub use capped::Capped;
pub(crate) use coded::coded;
pub use limits::FIELD_MAX;
pub use locale::{
    Locale, LocaleName, TypedDate, UnknownLocale, WrongDate, choose, chosen, date, date_columns,
    dates_in, day, day_and_month, decimal, figures_in, month, plain, share, signed, thousands,
    whole, within,
};

/// The text with everything that could steer a terminal made visible or dropped: control
/// characters (also the C1 set) become the replacement character, line breaks and tabs a blank,
/// and characters that reorder or hide text (bidirectional controls, zero-width ones) go.
#[must_use]
pub fn safe(text: &str) -> Cow<'_, str> {
    if text.chars().all(is_plain) {
        return Cow::Borrowed(text);
    }
    Cow::Owned(text.chars().filter_map(tamed).collect())
}

/// The same for a text of many lines, such as a file that is handed on: its line breaks stay.
#[must_use]
pub fn safe_lines(text: String) -> String {
    if text.chars().all(|c| c == '\n' || is_plain(c)) {
        return text;
    }
    let lines: Vec<_> = text.split('\n').map(safe).collect();
    lines.join("\n")
}

/// JSON in which what could steer a terminal or reorder a text is written as an escape (RFC 8259, section 7): a program
/// reads the value as it is, and nobody is deceived who looks at the file.
#[must_use]
pub fn safe_json(json: String) -> String {
    if json.chars().all(|c| c == '\n' || is_plain(c)) {
        return json;
    }
    let mut out = String::with_capacity(json.len() + 16);
    for c in json.chars() {
        if c == '\n' || is_plain(c) {
            out.push(c);
        } else {
            for unit in c.encode_utf16(&mut [0; 2]) {
                out.push_str(&format!("\\u{unit:04x}"));
            }
        }
    }
    out
}

/// Words as the end of a sentence: with a full stop, unless they end with a sign of their own.
#[must_use]
pub fn ended(words: &str) -> String {
    let words = words.trim();
    match words.chars().next_back() {
        Some('.' | '!' | '?' | '…') => words.to_owned(),
        _ => format!("{words}."),
    }
}

fn is_plain(c: char) -> bool {
    !c.is_control() && !hides_or_reorders(c) && !matches!(c, '\u{2028}' | '\u{2029}')
}

fn tamed(c: char) -> Option<char> {
    match c {
        '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}' => Some(' '),
        c if c.is_control() => Some(char::REPLACEMENT_CHARACTER),
        c if hides_or_reorders(c) => None,
        c => Some(c),
    }
}

/// The bidirectional controls of Unicode Standard Annex 9 and the invisible format characters that
/// can make two different texts look the same.
fn hides_or_reorders(c: char) -> bool {
    matches!(c,
        '\u{00AD}' | '\u{061C}' | '\u{180E}' | '\u{FFF9}'..='\u{FFFB}' | '\u{E0000}'..='\u{E007F}'
        | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{FEFF}')
}

/// The text with its first letter small.
#[must_use]
pub fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_lowercase);
    first.chain(letters).collect()
}

/// Columns the text takes in a terminal.
#[must_use]
pub fn width(text: &str) -> usize {
    text.width()
}

/// The text cut or filled with blanks to exactly `columns`; a cut is shown by an ellipsis.
#[must_use]
pub fn fit(text: &str, columns: usize) -> String {
    if width(text) <= columns {
        return format!("{text}{}", " ".repeat(columns - width(text)));
    }
    let mut out = String::new();
    let mut used = 0;
    for c in text.chars() {
        used += most(c);
        if used >= columns {
            break;
        }
        out.push(c);
    }
    if columns > 0 {
        out.push('…');
    }
    // Counted anew: two letters can stand in one column.
    let used = width(&out);
    out + &" ".repeat(columns.saturating_sub(used))
}

/// The columns by which a character can make the text before it wider: those of its own, or the one that
/// variation selector 16 adds to the sign it turns into a picture.
fn most(c: char) -> usize {
    match c {
        '\u{FE0F}' => 1,
        c => c.width().unwrap_or(0),
    }
}

/// Breaks the text into lines of at most `columns` at blanks; a longer word stands alone, cut.
#[must_use]
pub fn wrap(text: &str, columns: usize) -> Vec<String> {
    let cut = |word: &str| match width(word) > columns {
        true => fit(word, columns),
        false => word.to_owned(),
    };
    let words: Vec<String> = text
        .split(parts_words)
        .filter(|word| !word.is_empty())
        .map(cut)
        .collect();
    if words.is_empty() {
        return Vec::new();
    }
    let options = textwrap::Options::new(columns)
        .wrap_algorithm(textwrap::WrapAlgorithm::FirstFit)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
        .break_words(false);
    let text = words.join(" ");
    let lines = textwrap::wrap(&text, options).into_iter();
    lines.map(Cow::into_owned).collect()
}

/// A blank at which a line may be broken; the two that join the groups of a number do not part it (Unicode Standard
/// Annex 14, class GL).
fn parts_words(c: char) -> bool {
    c.is_whitespace() && !matches!(c, '\u{A0}' | '\u{202F}')
}

/// A duration as on a chess clock: `m:ss`, or `h:mm:ss` from one hour on.
#[must_use]
pub fn clock(ms: u64) -> String {
    let s = ms / 1000;
    match s / 3600 {
        0 => format!("{}:{:02}", s / 60, s % 60),
        h => format!("{h}:{:02}:{:02}", s / 60 % 60, s % 60),
    }
}

/// The text with its first letter as a capital, as a sentence begins.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
}

/// A count as a sentence has it: in words up to twelve.
#[must_use]
pub fn number(n: usize) -> String {
    const WORDS: [&str; 13] = [
        tr_later!("no"),
        tr_later!("one"),
        tr_later!("two"),
        tr_later!("three"),
        tr_later!("four"),
        tr_later!("five"),
        tr_later!("six"),
        tr_later!("seven"),
        tr_later!("eight"),
        tr_later!("nine"),
        tr_later!("ten"),
        tr_later!("eleven"),
        tr_later!("twelve"),
    ];
    WORDS
        .get(n)
        .map_or_else(|| whole(n), |w| crate::translation::text(w).to_owned())
}

/// Items as a sentence has them: `a`, `a and b`, `a, b and c`.
#[must_use]
pub fn list(items: &[impl AsRef<str>]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [head @ .., last] => {
            let head: Vec<&str> = head.iter().map(AsRef::as_ref).collect();
            // TRANSLATORS: the last two of a list.
            tr!("{} and {}", head.join(", "), last.as_ref())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn json_keeps_its_values_and_hides_nothing() {
        let value =
            serde_json::json!({"words": "a\u{202E}b\u{9b}2J\u{E0041}\n\t\u{1b}", "plain": "é"});
        let json = serde_json::to_string_pretty(&value).unwrap();
        let safe = safe_json(json);
        assert!(safe.chars().all(|c| c == '\n' || is_plain(c)), "{safe:?}");
        assert!(
            safe.contains("\\u202e") && safe.contains("\\udb40\\udc41"),
            "{safe}"
        );
        assert_eq!(
            serde_json::from_str::<serde_json::Value>(&safe).unwrap(),
            value
        );
    }

    #[test]
    fn lines_stay_lines() {
        let text = "one\u{202E}\r\n\ttwo\u{1b}\n".to_owned();
        assert_eq!(safe_lines(text), "one \n two\u{FFFD}\n");
        assert_eq!(safe_lines("a\nb".to_owned()), "a\nb");
    }

    #[test]
    fn escape_sequences_do_not_get_through() {
        assert_eq!(safe("a\u{1b}[2Jb\tc\u{202E}d"), "a\u{FFFD}[2Jb cd");
        assert!(matches!(safe("Nf3 – gut"), Cow::Borrowed(_)));
    }

    #[test]
    fn fit_gives_exactly_the_width() {
        for columns in 0..12 {
            assert_eq!(width(&fit("Ansa Verrick", columns)), columns);
        }
        assert_eq!(fit("Nf3", 5), "Nf3  ");
        // Lam and alef make one letter, a selector makes a picture of a sign: Unicode Standard, 9.2 and UTS 51.
        for words in ["\u{644}\u{627}".repeat(9), "\u{2601}\u{FE0F}".repeat(9)] {
            for columns in 0..12 {
                assert_eq!(width(&fit(&words, columns)), columns, "{words}");
            }
        }
    }

    #[test]
    fn wrap_keeps_every_word() {
        assert_eq!(
            wrap("a  long-winded\twordlonger", 6),
            ["a", "long-…", "wordl…"]
        );
        assert_eq!(wrap("one two three", 7), ["one two", "three"]);
        assert_eq!(wrap("", 7), Vec::<String>::new());
    }

    #[test]
    fn small_numbers_are_words() {
        assert_eq!([number(1), number(12), number(13)], ["one", "twelve", "13"]);
    }

    #[test]
    fn clock_reads_like_a_clock() {
        assert_eq!(clock(872_000), "14:32");
        assert_eq!(clock(3_661_000), "1:01:01");
    }
}
