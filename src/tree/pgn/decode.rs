//! Bytes of a PGN file to text.

use std::borrow::Cow;

/// Windows-1252 where it differs from ISO 8859-1: the bytes 0x80 to 0x9F (Unicode's mapping table
/// CP1252.TXT, from memory). Bytes that it leaves undefined become the replacement character.
const HIGH: [char; 32] = [
    '€', '\u{FFFD}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{FFFD}', 'Ž',
    '\u{FFFD}', '\u{FFFD}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{FFFD}',
    'ž', 'Ÿ',
];

/// The text of a file: UTF-8, with or without byte order mark, else Windows-1252.
#[must_use]
pub fn decode(bytes: &[u8]) -> Cow<'_, str> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text),
        Err(_) => Cow::Owned(bytes.iter().map(|b| windows_1252(*b)).collect()),
    }
}

fn windows_1252(byte: u8) -> char {
    match byte {
        0x80..=0x9F => HIGH
            .get(usize::from(byte - 0x80))
            .copied()
            .unwrap_or(char::REPLACEMENT_CHARACTER),
        _ => char::from(byte),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_encoding_gives_the_name() {
        assert_eq!(decode("Müller".as_bytes()), "Müller");
        assert_eq!(decode("\u{FEFF}Müller".as_bytes()), "Müller");
        assert_eq!(decode(b"M\xFCller"), "Müller");
        assert_eq!(decode(b"\x8Aimun \x96 x"), "Šimun – x");
        assert_eq!(decode(b""), "");
    }
}
