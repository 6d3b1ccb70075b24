//! Keys as this program knows them, whatever the terminal library calls them.

use std::fmt;

/// One key press.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum KeyPress {
    /// A character typed without Ctrl or Alt.
    Char(char),
    /// A letter with Ctrl.
    Ctrl(char),
    /// A function key, 1 to 12.
    F(u8),
    Enter,
    Esc,
    Tab,
    BackTab,
    Backspace,
    Delete,
    Up,
    Down,
    Left,
    Right,
    ShiftUp,
    ShiftDown,
    Home,
    End,
    PageUp,
    PageDown,
}

const NAMES: [(KeyPress, &str); 17] = [
    (KeyPress::Enter, "Enter"),
    (KeyPress::Esc, "Esc"),
    (KeyPress::Tab, "Tab"),
    (KeyPress::BackTab, "Shift-Tab"),
    (KeyPress::Backspace, "Backspace"),
    (KeyPress::Delete, "Delete"),
    (KeyPress::Up, "Up"),
    (KeyPress::Down, "Down"),
    (KeyPress::Left, "Left"),
    (KeyPress::Right, "Right"),
    (KeyPress::ShiftUp, "Shift-Up"),
    (KeyPress::ShiftDown, "Shift-Down"),
    (KeyPress::Home, "Home"),
    (KeyPress::End, "End"),
    (KeyPress::PageUp, "PgUp"),
    (KeyPress::PageDown, "PgDn"),
    (KeyPress::Char(' '), "Space"),
];

impl fmt::Display for KeyPress {
    /// As printed in the bottom line and the help: `Enter`, `F10`, `Ctrl-A`, `f`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some((_, name)) = NAMES.iter().find(|(key, _)| key == self) {
            return f.write_str(name);
        }
        match self {
            Self::Char(c) => write!(f, "{c}"),
            Self::Ctrl(c) => write!(f, "Ctrl-{}", c.to_ascii_uppercase()),
            Self::F(n) => write!(f, "F{n}"),
            _ => Ok(()),
        }
    }
}

impl KeyPress {
    /// The number of a digit key.
    #[must_use]
    pub fn digit(self) -> Option<usize> {
        match self {
            Self::Char(c) => c.to_digit(10).map(|d| d as usize),
            _ => None,
        }
    }
}

#[cfg(test)]
impl KeyPress {
    /// Keys in a compact notation: characters stand for themselves, `<F10>`, `<Enter>`, `<Ctrl-A>` for
    /// the others.
    pub(crate) fn script(text: &str) -> Vec<Self> {
        let mut keys = Vec::new();
        let mut rest = text;
        while let Some(c) = rest.chars().next() {
            if let Some((name, behind)) = rest.strip_prefix('<').and_then(|r| r.split_once('>')) {
                keys.push(Self::named(name));
                rest = behind;
            } else {
                keys.push(Self::Char(c));
                rest = &rest[c.len_utf8()..];
            }
        }
        keys
    }

    fn named(name: &str) -> Self {
        let known = NAMES.iter().find(|(_, n)| *n == name).map(|(key, _)| *key);
        let ctrl = name.strip_prefix("Ctrl-").and_then(|n| n.chars().next());
        let f = name.strip_prefix('F').and_then(|n| n.parse().ok());
        known
            .or(ctrl.map(|c| Self::Ctrl(c.to_ascii_lowercase())))
            .or(f.map(Self::F))
            .unwrap_or_else(|| panic!("no key is called <{name}>"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scripts_read_as_they_print() {
        let keys = KeyPress::script("e4<Enter><F10><Ctrl-A><Shift-Up>");
        let back: Vec<String> = keys.iter().map(KeyPress::to_string).collect();
        assert_eq!(back, ["e", "4", "Enter", "F10", "Ctrl-A", "Shift-Up"]);
    }
}
