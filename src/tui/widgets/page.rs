//! Words on more rows than there is room for: nothing is cut, the rest is scrolled to.

use std::cell::Cell;

use crate::text;
use crate::tui::input::action::{Action, CommonAction};
use crate::tui::widgets::canvas::{Canvas, TextStyle};

/// Rows that a page key goes.
const PAGE: usize = 8;

/// How far a page is scrolled. Drawing keeps it within what there is, so that no key is lost on it.
#[derive(Debug, Clone, Default)]
pub struct PageScroll {
    top: Cell<usize>,
}

impl PageScroll {
    /// Back to the top.
    pub fn reset(&mut self) {
        self.top.set(0);
    }

    /// Scrolls; other actions do nothing.
    pub fn walk(&mut self, action: Action) {
        let top = self.top.get();
        self.top.set(match action {
            Action::Common(CommonAction::Up) => top.saturating_sub(1),
            Action::Common(CommonAction::Down) => top + 1,
            Action::Common(CommonAction::PageUp) => top.saturating_sub(PAGE),
            Action::Common(CommonAction::PageDown) => top + PAGE,
            _ => top,
        });
    }
}

/// Styled paragraphs, broken into rows of one width.
#[derive(Debug, Clone)]
pub struct TextPage {
    width: usize,
    rows: Vec<(usize, String, TextStyle)>,
}

impl TextPage {
    /// An empty page of so many columns.
    #[must_use]
    pub fn new(width: usize) -> Self {
        Self {
            width,
            rows: Vec::new(),
        }
    }

    /// A paragraph.
    pub fn say(&mut self, words: &str, style: TextStyle) {
        self.hanging("", words, style);
    }

    /// A paragraph behind a lead; its later rows stand as far in.
    pub fn hanging(&mut self, lead: &str, words: &str, style: TextStyle) {
        let indent = text::width(lead);
        let width = self.width.saturating_sub(indent).max(1);
        let safe = text::safe(words);
        for (i, row) in unbroken(&safe, width).into_iter().enumerate() {
            if i == 0 && !lead.is_empty() {
                self.rows.push((0, format!("{lead}{row}"), style));
            } else {
                self.rows.push((indent, row, style));
            }
        }
    }

    /// Lines that stand as they are; what is too long for the page is broken.
    pub fn lines(&mut self, text: &str) {
        for line in text.lines() {
            let safe = text::safe(line);
            if text::width(&safe) <= self.width {
                self.rows.push((0, safe.into_owned(), TextStyle::PLAIN));
            } else {
                self.say(line, TextStyle::PLAIN);
            }
        }
    }

    /// An empty row, unless there is one or the page begins.
    pub fn gap(&mut self) {
        if self.rows.last().is_some_and(|(_, row, _)| !row.is_empty()) {
            self.rows.push((0, String::new(), TextStyle::PLAIN));
        }
    }

    #[must_use]
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// Draws into a place of so many rows. Where there is more than fits, the last row says so.
    pub fn draw(
        &self,
        canvas: &mut Canvas,
        (x, y, rows): (usize, usize, usize),
        scroll: &PageScroll,
    ) {
        if self.rows.len() <= rows {
            scroll.top.set(0);
            return self.put(canvas, (x, y), 0, rows);
        }
        let shown = rows.saturating_sub(1);
        let top = scroll.top.get().min(self.rows.len() - shown);
        scroll.top.set(top);
        self.put(canvas, (x, y), top, shown);
        let below = self.rows.len() - shown - top;
        let words = match (top, below) {
            (0, below) => tr!("({below} more below: Down)"),
            (top, 0) => tr!("({top} more above: Up)"),
            (top, below) => tr!("({top} more above, {below} below)"),
        };
        canvas.put(x, y + shown, &words, TextStyle::QUIET);
    }

    fn put(&self, canvas: &mut Canvas, (x, y): (usize, usize), top: usize, rows: usize) {
        let shown = self.rows.iter().skip(top).take(rows);
        for (i, (indent, row, style)) in shown.enumerate() {
            canvas.put(x + indent, y + i, row, *style);
        }
    }
}

/// Rows of at most `width` columns; a longer word goes on in the next row, so that nothing is lost.
fn unbroken(words: &str, width: usize) -> Vec<String> {
    let mut pieces = String::new();
    for word in words.split_whitespace() {
        let mut used = 0;
        for c in word.chars() {
            let columns = text::width(c.encode_utf8(&mut [0; 4]));
            if used > 0 && used + columns > width {
                pieces.push(' ');
                used = 0;
            }
            pieces.push(c);
            used += columns;
        }
        pieces.push(' ');
    }
    text::wrap(&pieces, width)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(page: &TextPage, scroll: &PageScroll) -> String {
        let mut canvas = Canvas::new(30, 3);
        page.draw(&mut canvas, (0, 0, 3), scroll);
        canvas.to_text()
    }

    #[test]
    fn nothing_is_cut_and_no_key_is_lost() {
        let mut page = TextPage::new(10);
        page.hanging("1 ", "one two three", TextStyle::PLAIN);
        page.gap();
        page.gap();
        page.say("abcdefghijklmnop", TextStyle::PLAIN);
        let mut scroll = PageScroll::default();
        assert_eq!(
            drawn(&page, &scroll),
            "1 one two\n  three\n(3 more below: Down)"
        );
        for _ in 0..20 {
            scroll.walk(Action::Common(CommonAction::Down));
        }
        assert_eq!(
            drawn(&page, &scroll),
            "abcdefghij\nklmnop\n(3 more above: Up)"
        );
        scroll.walk(Action::Common(CommonAction::Up));
        assert_eq!(
            drawn(&page, &scroll),
            "\nabcdefghij\n(2 more above, 1 below)"
        );
    }
}
