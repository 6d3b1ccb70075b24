//! A translation for tests alone, in which every letter of a text is one of another alphabet: what is read in Latin letters
//! does not come from the template. Columns, capitals, places for values and tags stay.

use polib::message::{MessageMutView, MessageView};

const LATIN: &str = "abcdefghijklmnopqrstuvwxyz";
const OTHER: &str = "абцдефгхийклмнопярстувшыжз";

/// The letters of the other alphabet, but for places, tags and entities.
pub fn letters(text: &str) -> String {
    let mut end = None;
    let mut out = String::new();
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        if end == Some(c) {
            end = None;
            out.push(c);
            continue;
        }
        let next = rest.peek().copied().unwrap_or(' ');
        match (end, c) {
            (Some(_), c) => out.push(c),
            (None, '{') if next == '{' => {
                out.push_str("{{");
                rest.next();
            }
            (None, '{') => {
                end = Some('}');
                out.push(c);
            }
            (None, '<') if next.is_ascii_alphabetic() || next == '/' => {
                let closes = rest.clone().any(|c| c == '>');
                end = closes.then_some('>');
                out.push(c);
            }
            (None, '&') if next.is_ascii_alphabetic() => {
                end = Some(';');
                out.push(c);
            }
            (None, c) => out.push(letter(c)),
        }
    }
    out
}

fn letter(c: char) -> char {
    let other = |small: char| {
        let at = LATIN.find(small)?;
        OTHER.chars().nth(at)
    };
    match c {
        'a'..='z' => other(c).unwrap_or(c),
        'A'..='Z' => {
            let small = other(c.to_ascii_lowercase()).unwrap_or(c);
            small.to_uppercase().next().unwrap_or(c)
        }
        c => c,
    }
}

/// The template with every text in the other alphabet.
pub fn translation(template: &str) -> String {
    let mut catalog = polib::po_file::parse_from_reader(template.as_bytes()).unwrap();
    catalog.metadata.language = "qps".to_owned();
    for mut message in catalog.messages_mut() {
        let one = letters(message.msgid());
        if message.is_plural() {
            let many = letters(message.msgid_plural().unwrap());
            *message.msgstr_plural_mut().unwrap() = vec![one, many];
        } else {
            message.set_msgstr(one).unwrap();
        }
    }
    let mut out = std::io::BufWriter::new(Vec::new());
    polib::po_file::write(&catalog, &mut out).unwrap();
    String::from_utf8(out.into_inner().unwrap()).unwrap()
}

/// Words of three Latin letters or more, but for moves and for names without a vowel, which are drawn by lot.
pub fn words(text: &str) -> std::collections::BTreeSet<String> {
    text.split(|c: char| !c.is_alphabetic())
        .filter(|word| word.len() >= 3 && word.chars().all(|c| c.is_ascii_alphabetic()))
        .filter(|word| word.contains(['a', 'e', 'i', 'o', 'u', 'y']))
        .filter(|word| !word.chars().all(|c| "KQRBNxabcdefgh".contains(c)))
        .map(str::to_owned)
        .collect()
}
