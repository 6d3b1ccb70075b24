//! Bytes of a PGN file to text.

use std::borrow::Cow;

/// Windows-1252 where it differs from ISO 8859-1: the bytes 0x80 to 0x9F (Unicode's mapping table
/// CP1252.TXT, from memory). Bytes that it leaves undefined become the replacement character.
const HIGH: [char; 32] = [
    '€', '\u{FFFD}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{FFFD}', 'Ž',
    '\u{FFFD}', '\u{FFFD}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{FFFD}',
    'ž', 'Ÿ',
];

/// The text of a file: UTF-8, with or without byte order mark, UTF-16 with one, else Windows-1252.
#[must_use]
pub fn decode(bytes: &[u8]) -> Cow<'_, str> {
    if let Some(text) = utf_16(bytes) {
        return Cow::Owned(text);
    }
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text),
        Err(_) => Cow::Owned(bytes.iter().map(|b| windows_1252(*b)).collect()),
    }
}

/// Some editors save so; a file of games has no other reason to begin with these two bytes.
fn utf_16(bytes: &[u8]) -> Option<String> {
    let (mark, rest) = bytes.split_first_chunk::<2>()?;
    let unit = match mark {
        [0xFF, 0xFE] => u16::from_le_bytes,
        [0xFE, 0xFF] => u16::from_be_bytes,
        _ => return None,
    };
    let units = rest.chunks_exact(2).filter_map(|pair| pair.try_into().ok());
    let text = char::decode_utf16(units.map(unit));
    Some(
        text.map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER))
            .collect(),
    )
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
        assert_eq!(decode(b"\xFF\xFEM\0\xFC\0\x3D\xD8\x00\xDE"), "Mü\u{1F600}");
        assert_eq!(decode(b"\xFE\xFF\0M\0\xFC\0"), "Mü");
    }
}
