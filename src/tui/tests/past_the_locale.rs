//! What a screen or a page shows past the reader's locale.

use crate::text::{Locale, LocaleName};

/// Decimals with a comma, groups with a thin blank, days with strokes: glibc's `fr_FR`.
pub(crate) fn french() -> Locale {
    let name = LocaleName::named("fr").unwrap();
    name.locale(&|_| None).unwrap()
}

/// Words with a point between figures or before them, or with a day as ISO 8601 or PGN has it.
pub(crate) fn past_the_locale(text: &str) -> Vec<String> {
    // Articles of the Laws are no decimals; levels of schemas and versions stand nowhere on these.
    const ARTICLES: [&str; 5] = ["8.4", "9.2", "9.3", "11.3", "4.4"];
    let words =
        text.split(|c: char| c.is_whitespace() || matches!(c, '(' | ')' | '\'' | '[' | ']'));
    let words = words.map(|w| w.trim_end_matches([',', '.', ';', ':', '-']));
    // Values that stand for themselves in tests hold 'zq'.
    let words = words.filter(|w| !ARTICLES.contains(w) && !w.contains("zq"));
    let odd = words.filter(|w| has_point(w) || has_day(w));
    odd.map(str::to_owned).collect()
}

fn has_point(word: &str) -> bool {
    word.char_indices().any(|(at, c)| {
        let behind = word.get(at + 1..).and_then(|b| b.chars().next());
        let before = word.get(..at).and_then(|b| b.chars().next_back());
        c == '.'
            && behind.is_some_and(|c| c.is_ascii_digit())
            && before.is_none_or(|c| !c.is_alphabetic() && c != '.')
    })
}

/// `2026-03`, and so `2026-03-14`.
fn has_day(word: &str) -> bool {
    let digits = |text: Option<&str>| text.is_some_and(|t| t.bytes().all(|b| b.is_ascii_digit()));
    word.match_indices('-').any(|(at, _)| {
        let year = at.checked_sub(4).and_then(|from| word.get(from..at));
        let before = at.checked_sub(5).and_then(|from| word.get(from..from + 1));
        let behind = word.get(at + 3..at + 4);
        digits(year)
            && digits(word.get(at + 1..at + 3))
            && !digits(before)
            && !behind.is_some_and(|c| c.chars().all(char::is_alphanumeric))
    })
}

/// The words of a page: no tags, no style, no script.
pub(crate) fn without_tags(page: &str) -> String {
    let mut out = String::new();
    let mut rest = page;
    while let Some((words, tag)) = rest.split_once('<') {
        out.push_str(words);
        out.push(' ');
        let skipped = ["style", "script"]
            .iter()
            .find(|name| tag.starts_with(**name));
        let end = match skipped {
            Some(name) => tag
                .split_once(&format!("</{name}>"))
                .map(|(_, behind)| behind),
            None => tag.split_once('>').map(|(_, behind)| behind),
        };
        rest = end.unwrap_or_default();
    }
    out + rest
}

#[test]
fn what_is_past_the_locale_is_seen() {
    let odd = past_the_locale(
        "stood at 0.70, (.38) on 2026-03-14; 2026.02.14 by month 2026-03 but 1.e4 e5 2.Nf3 7...Rc4+ 11.3 \
         0,70 14/03/2026 20260214-zqgame 1790-0000 24-63 %",
    );
    assert_eq!(odd, ["0.70", ".38", "2026-03-14", "2026.02.14", "2026-03"]);
    assert_eq!(
        without_tags("<p style=\"x:.4\">a<b>1</b></p><style>.5</style>").trim(),
        "a 1"
    );
}
