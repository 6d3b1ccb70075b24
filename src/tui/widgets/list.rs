//! A list with one marked entry that scrolls so that the mark can be seen.

use crate::text;
use crate::tui::input::action::{Action, CommonAction};
use crate::tui::widgets::canvas::{Canvas, ClickTarget, TextStyle};

/// Rows of a page.
const PAGE: usize = 15;

/// Which entry is marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ListView {
    at: usize,
}

impl ListView {
    #[must_use]
    pub fn at(self) -> usize {
        self.at
    }

    /// Marks an entry.
    pub fn go(&mut self, at: usize) {
        self.at = at;
    }

    /// The list has become shorter or longer.
    pub fn keep_within(&mut self, count: usize) {
        self.at = self.at.min(count.saturating_sub(1));
    }

    /// Moves the mark; other actions do nothing.
    pub fn walk(&mut self, action: Action, count: usize) {
        self.at = match action {
            Action::Common(CommonAction::Up) => self.at.saturating_sub(1),
            Action::Common(CommonAction::Down) => self.at + 1,
            Action::Common(CommonAction::PageUp) => self.at.saturating_sub(PAGE),
            Action::Common(CommonAction::PageDown) => self.at + PAGE,
            _ => self.at,
        };
        self.keep_within(count);
    }

    /// Draws the entries into an area (column, row, columns, rows), each of them to be clicked on.
    pub fn draw(
        self,
        canvas: &mut Canvas,
        (x, y, width, rows): (usize, usize, usize, usize),
        count: usize,
        line: &dyn Fn(usize) -> String,
    ) {
        let middle = self.at.saturating_sub(rows / 2);
        let skipped = middle.min(count.saturating_sub(rows));
        for i in (skipped..count).take(rows) {
            self.row(canvas, (x, y + i - skipped, width), i, &line(i));
        }
    }

    /// Draws one entry.
    pub fn row(
        self,
        canvas: &mut Canvas,
        (x, y, width): (usize, usize, usize),
        i: usize,
        line: &str,
    ) {
        let marked = i == self.at;
        let sign = if marked { ">" } else { " " };
        canvas.put(x, y, sign, TextStyle::ACCENT.bold());
        let line = text::fit(line, width.saturating_sub(2));
        canvas.put(x + 2, y, &line, TextStyle::PLAIN.turned(marked));
        canvas.clickable(x, y, width, 1, ClickTarget::Item(i));
    }
}
