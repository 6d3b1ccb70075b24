//! A screen as a value: styled words at places, and what a click on them means.
//!
//! Screens draw onto a [`Canvas`]; the terminal shows it, tests read it. Everything that is put on a
//! canvas goes through [`text::safe`] and is cut at its edge.

use std::collections::HashMap;

use shakmaty::{Color, Square};

use crate::notation::Letters;
use crate::text;
use crate::tree::NodeId;

/// Smallest screen that shows everything.
pub const MIN_WIDTH: usize = 80;
pub const MIN_HEIGHT: usize = 24;

/// The sign of a cut text in ASCII.
const CUT: &str = ">";

/// The colour of a word. What it says never depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum TextTone {
    #[default]
    Plain,
    /// Beside the point: numbers, hints, keys' words.
    Quiet,
    /// Headings and keys.
    Accent,
    /// What wants attention.
    Alert,
    /// A square of the board, with the colour of the piece on it.
    Square { light: bool, piece: Option<Color> },
}

/// How a word is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct TextStyle {
    pub tone: TextTone,
    pub bold: bool,
    pub underlined: bool,
    pub struck: bool,
    pub turned: bool,
}

impl TextStyle {
    pub const PLAIN: Self = Self::of(TextTone::Plain);
    pub const QUIET: Self = Self::of(TextTone::Quiet);
    pub const ACCENT: Self = Self::of(TextTone::Accent);
    pub const ALERT: Self = Self::of(TextTone::Alert);

    #[must_use]
    pub const fn of(tone: TextTone) -> Self {
        Self {
            tone,
            bold: false,
            underlined: false,
            struck: false,
            turned: false,
        }
    }

    #[must_use]
    pub const fn bold(mut self) -> Self {
        self.bold = true;
        self
    }

    #[must_use]
    pub const fn underlined(mut self) -> Self {
        self.underlined = true;
        self
    }

    #[must_use]
    pub const fn struck(mut self, struck: bool) -> Self {
        self.struck = struck;
        self
    }

    /// Foreground and background exchanged: the cursor.
    #[must_use]
    pub const fn turned(mut self, turned: bool) -> Self {
        self.turned = turned;
        self
    }
}

/// What a click at some place means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClickTarget {
    /// A move of the written tree.
    Node(NodeId),
    /// A square of the board.
    Square(Square),
    /// An entry of a list.
    Item(usize),
    /// One of the filters of a list.
    Filter(usize),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct ClickArea {
    x: usize,
    y: usize,
    width: usize,
    height: usize,
}

/// Words in one style at one place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextSpan {
    pub x: usize,
    pub y: usize,
    pub text: String,
    pub style: TextStyle,
}

/// One drawn screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Canvas {
    width: usize,
    height: usize,
    ascii: bool,
    letters: Letters,
    /// Of the last words of a row that letters made longer: where they would have ended, and by how much they are.
    longer: HashMap<usize, (usize, usize)>,
    spans: Vec<TextSpan>,
    clickables: Vec<(ClickArea, ClickTarget)>,
}

impl Canvas {
    #[must_use]
    pub fn new(width: usize, height: usize) -> Self {
        Self {
            width,
            height,
            ascii: false,
            letters: Letters::default(),
            longer: HashMap::new(),
            spans: Vec::new(),
            clickables: Vec::new(),
        }
    }

    /// A canvas on which the program's own signs are ASCII alone.
    #[must_use]
    pub fn ascii(mut self, ascii: bool) -> Self {
        self.ascii = ascii;
        self
    }

    /// A canvas on which moves have these letters.
    #[must_use]
    pub fn letters(mut self, letters: Letters) -> Self {
        self.letters = letters;
        self
    }

    #[must_use]
    pub fn width(&self) -> usize {
        self.width
    }

    #[must_use]
    pub fn height(&self) -> usize {
        self.height
    }

    #[must_use]
    pub fn spans(&self) -> &[TextSpan] {
        &self.spans
    }

    /// Puts words at a place; gives the column behind them. What does not fit is cut with an ellipsis.
    pub fn put(&mut self, x: usize, y: usize, words: &str, style: TextStyle) -> usize {
        let shown = self.letters.shown(words).into_owned();
        // Two letters for one move what follows in the row, until a gap takes it up.
        let moved = match self.longer.get(&y) {
            Some((end, by)) if *end <= x && x - end < 2 => *by,
            _ => 0,
        };
        let end = self.put_as_typed(x + moved, y, &shown, style);
        let more = text::width(&shown).saturating_sub(text::width(words)) + moved;
        if more == 0 {
            return end;
        }
        let end = end.saturating_sub(more);
        self.longer.insert(y, (end, more));
        end
    }

    /// Puts words whose letters are not exchanged: what he is typing.
    pub fn put_as_typed(&mut self, x: usize, y: usize, words: &str, style: TextStyle) -> usize {
        if x >= self.width || y >= self.height || words.is_empty() {
            return x;
        }
        let safe = text::safe(words);
        let room = self.width - x;
        let text = if text::width(&safe) <= room {
            safe.into_owned()
        } else {
            text::fit(&safe, room)
        };
        let text = if self.ascii {
            text.replace('…', CUT)
        } else {
            text
        };
        let end = x + text::width(&text);
        self.spans.push(TextSpan { x, y, text, style });
        end
    }

    /// Puts words so that they end at the right edge.
    pub fn put_right(&mut self, y: usize, words: &str, style: TextStyle) {
        let words = self.letters.shown(words).into_owned();
        let x = self.width.saturating_sub(text::width(&words));
        self.put_as_typed(x, y, &words, style);
    }

    /// Puts words in lines of at most `width` columns and at most `rows` lines; gives the row below.
    pub fn put_wrapped(
        &mut self,
        area: (usize, usize, usize, usize),
        words: &str,
        style: TextStyle,
    ) -> usize {
        let (x, y, width, rows) = area;
        let words = self.letters.shown(words).into_owned();
        let lines = text::wrap(&text::safe(&words), width);
        for (i, line) in lines.iter().take(rows).enumerate() {
            let cut = i + 1 == rows && lines.len() > rows;
            let line = match cut {
                true if text::width(line) + 2 <= width => format!("{line} …"),
                true => text::fit(&format!("{line} {}", " ".repeat(width)), width),
                false => line.clone(),
            };
            self.put_as_typed(x, y + i, line.trim_end(), style);
        }
        y + lines.len().min(rows)
    }

    /// Takes away what was put into an area (column, row, columns, rows): whole words where they begin.
    pub fn clear(&mut self, (x, y, width, height): (usize, usize, usize, usize)) {
        let inside = |s: &TextSpan| (x..x + width).contains(&s.x) && (y..y + height).contains(&s.y);
        self.spans.retain(|s| !inside(s));
    }

    /// A click on this area means `target`.
    pub fn clickable(
        &mut self,
        x: usize,
        y: usize,
        width: usize,
        height: usize,
        target: ClickTarget,
    ) {
        let area = ClickArea {
            x,
            y,
            width,
            height,
        };
        self.clickables.push((area, target));
    }

    /// What a click at a place means; what was drawn last lies on top.
    #[must_use]
    pub fn target_at(&self, x: usize, y: usize) -> Option<ClickTarget> {
        self.clickables
            .iter()
            .rev()
            .find(|(a, _)| (a.x..a.x + a.width).contains(&x) && (a.y..a.y + a.height).contains(&y))
            .map(|(_, target)| *target)
    }

    /// The words alone, line by line, without blanks at the ends.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut rows = vec![String::new(); self.height];
        let mut spans: Vec<&TextSpan> = self.spans.iter().collect();
        spans.sort_by_key(|s| (s.y, s.x));
        for span in spans {
            let Some(row) = rows.get_mut(span.y) else {
                continue;
            };
            let gap = span.x.saturating_sub(text::width(row));
            row.push_str(&" ".repeat(gap));
            row.push_str(&span.text);
        }
        let rows: Vec<&str> = rows.iter().map(|r| r.trim_end()).collect();
        rows.join("\n")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_cut_at_the_edge_and_made_safe() {
        let mut canvas = Canvas::new(10, 2);
        canvas.put(6, 0, "abcdefg", TextStyle::PLAIN);
        canvas.put(0, 1, "a\u{1b}[2Jb", TextStyle::PLAIN);
        canvas.put(3, 7, "below", TextStyle::PLAIN);
        assert_eq!(canvas.to_text(), "      abc…\na\u{FFFD}[2Jb");
    }

    #[test]
    fn the_topmost_area_is_clicked() {
        let mut canvas = Canvas::new(10, 2);
        canvas.clickable(0, 0, 5, 2, ClickTarget::Item(1));
        canvas.clickable(2, 1, 1, 1, ClickTarget::Item(2));
        assert_eq!(canvas.target_at(2, 1), Some(ClickTarget::Item(2)));
        assert_eq!(canvas.target_at(4, 1), Some(ClickTarget::Item(1)));
        assert_eq!(canvas.target_at(5, 1), None);
    }
}
