//! One line of text that is being typed, with the usual editing keys and a memory.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use crate::tui::input::action::EditAction;

/// Longest line in bytes; what is typed beyond it is dropped.
const LONGEST: usize = 2_000;

/// The line.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LineEditor {
    text: String,
    /// Byte place of the cursor, always at a boundary of graphemes.
    at: usize,
    past: Vec<String>,
    /// Place in `past` while walking it.
    shown: Option<usize>,
    /// Bytes that were not understood.
    bad: Option<Range<usize>>,
}

impl LineEditor {
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// The bytes to mark as not understood.
    #[must_use]
    pub fn bad(&self) -> Option<&Range<usize>> {
        self.bad.as_ref()
    }

    /// Replaces the text, the cursor behind it.
    pub fn set(&mut self, text: &str) {
        self.text = text.to_owned();
        self.at = text.len();
        self.bad = None;
    }

    /// Marks bytes as not understood, until the next edit.
    pub fn mark(&mut self, bad: Range<usize>) {
        self.bad = Some(bad);
    }

    /// Empties the line and remembers what stood there.
    pub fn finish(&mut self) -> String {
        let text = std::mem::take(&mut self.text);
        if !text.trim().is_empty() && self.past.last() != Some(&text) {
            self.past.push(text.clone());
        }
        self.at = 0;
        self.shown = None;
        self.bad = None;
        text
    }

    /// Types one character.
    pub fn insert(&mut self, c: char) {
        if c.is_control() || self.text.len() + c.len_utf8() > LONGEST {
            return;
        }
        self.bad = None;
        self.text.insert(self.at, c);
        self.at += c.len_utf8();
    }

    /// Types several characters.
    pub fn insert_word(&mut self, word: &str) {
        word.chars().for_each(|c| self.insert(c));
    }

    pub fn edit(&mut self, edit: EditAction) {
        self.bad = None;
        match edit {
            EditAction::Left => self.at = self.before(),
            EditAction::Right => self.at = self.behind(),
            EditAction::Start => self.at = 0,
            EditAction::End => self.at = self.text.len(),
            EditAction::DeleteBack => self.cut(self.before()..self.at),
            EditAction::DeleteHere => self.cut(self.at..self.behind()),
            EditAction::CutToEnd => self.cut(self.at..self.text.len()),
            EditAction::CutToStart => self.cut(0..self.at),
            EditAction::CutWord => self.cut(self.word_start()..self.at),
            EditAction::Older => self.walk(true),
            EditAction::Newer => self.walk(false),
        }
    }

    fn cut(&mut self, range: Range<usize>) {
        self.at = range.start;
        self.text.replace_range(range, "");
    }

    fn before(&self) -> usize {
        let left = self.text[..self.at].graphemes(true).next_back();
        self.at - left.map_or(0, str::len)
    }

    fn behind(&self) -> usize {
        let right = self.text[self.at..].graphemes(true).next();
        self.at + right.map_or(0, str::len)
    }

    fn word_start(&self) -> usize {
        let left = self.text[..self.at].trim_end();
        left.rfind(' ').map_or(0, |i| i + 1)
    }

    fn walk(&mut self, older: bool) {
        let now = self.shown.unwrap_or(self.past.len());
        let next = if older {
            now.checked_sub(1)
        } else {
            Some(now + 1)
        };
        let Some(next) = next else { return };
        let text = self.past.get(next).cloned().unwrap_or_default();
        self.set(&text);
        self.shown = (next < self.past.len()).then_some(next);
    }

    /// The text before, under and behind the cursor; the middle is a blank at the end of the line.
    #[must_use]
    pub fn parts(&self) -> (&str, &str, &str) {
        let (left, right) = self.text.split_at(self.at);
        match right.graphemes(true).next() {
            Some(under) => (left, under, &right[under.len()..]),
            None => (left, " ", ""),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The line with `|` before the cursor.
    fn shown(line: &LineEditor) -> String {
        format!("{}|{}", &line.text[..line.at], &line.text[line.at..])
    }

    fn typed(text: &str, edits: &[EditAction]) -> String {
        let mut line = LineEditor::default();
        line.insert_word(text);
        edits.iter().for_each(|e| line.edit(*e));
        shown(&line)
    }

    #[test]
    fn edits_like_readline() {
        use EditAction::*;
        assert_eq!(typed("Nxe4 dxe4", &[]), "Nxe4 dxe4|");
        assert_eq!(typed("Nxe4 dxe4", &[CutWord]), "Nxe4 |");
        assert_eq!(typed("Nxe4 dxe4 ", &[CutWord]), "Nxe4 |");
        assert_eq!(typed("Nxe4", &[Left, Left, DeleteBack]), "N|e4");
        assert_eq!(typed("Nxe4", &[Start, DeleteHere, CutToEnd]), "|");
        assert_eq!(typed("Nxe4 dxe4", &[Start, Right, CutToStart]), "|xe4 dxe4");
        assert_eq!(
            typed("", &[Left, Right, DeleteBack, DeleteHere, CutWord]),
            "|"
        );
        assert_eq!(typed("♞e4", &[Start, Right]), "♞|e4");
    }

    #[test]
    fn walks_what_was_typed_before() {
        let mut line = LineEditor::default();
        for text in ["Nf3", "Qh5"] {
            line.insert_word(text);
            line.finish();
        }
        line.edit(EditAction::Older);
        line.edit(EditAction::Older);
        line.edit(EditAction::Older);
        assert_eq!(shown(&line), "Nf3|");
        line.edit(EditAction::Newer);
        assert_eq!(shown(&line), "Qh5|");
        line.edit(EditAction::Newer);
        assert_eq!(shown(&line), "|");
    }
}
