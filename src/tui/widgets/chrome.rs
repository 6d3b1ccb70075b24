//! What all screens have in common: title, bottom line, answers, the text of an entry line.

use crate::text;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::line_editor::EntryLine;

/// A short answer of the program, until the next key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Answer {
    Quiet(String),
    Alert(String),
}

impl Answer {
    /// An error in its own words.
    #[must_use]
    pub fn error(error: &impl std::fmt::Display) -> Self {
        Self::Alert(error.to_string())
    }

    /// Draws at most two lines, the last of them in row `bottom`.
    pub fn draw(&self, page: &mut Page, bottom: usize) {
        let (words, ink) = match self {
            Self::Quiet(words) => (words, Ink::PLAIN),
            Self::Alert(words) => (words, Ink::ALERT.bold()),
        };
        let lines = text::wrap(&text::safe(words), page.width()).len().min(2);
        let top = bottom + 1 - lines;
        page.put_wrapped((0, top, page.width(), 2), words, ink);
    }
}

/// Title at the left, something short at the right.
pub fn title(page: &mut Page, left: &str, right: &str) {
    page.put(0, 0, left, Ink::ACCENT.bold());
    page.put_right(0, right, Ink::PLAIN.bold());
}

/// The bottom line: keys and what they do.
pub fn bar(page: &mut Page, place: Place) {
    bar_without(page, place, &[]);
}

/// The bottom line without some commands that mean nothing now.
pub fn bar_without(page: &mut Page, place: Place, without: &[Do]) {
    let y = page.height() - 1;
    let mut x = 0;
    for (key, short) in bindings::bar(place, without) {
        x = page.put(x, y, &key, Ink::ACCENT.bold()) + 1;
        x = page.put(x, y, short, Ink::QUIET) + 2;
    }
}

/// A prompt and the line being typed, scrolled so that the cursor can be seen.
pub fn entry_line(page: &mut Page, y: usize, prompt: &str, line: &EntryLine) {
    // The prompt may take half of the line; what he types has the rest.
    let half = page.width() / 2;
    let prompt = if text::width(prompt) > half {
        let cut: String = tail(prompt, half - 1);
        format!("…{cut}")
    } else {
        prompt.to_owned()
    };
    let x = page.put(0, y, &prompt, Ink::QUIET) + 1;
    let (left, under, right) = line.parts();
    let room = page.width().saturating_sub(x + 1);
    let shown = tail(left, room);
    let hidden = left.len() - shown.len();
    let x = marked(page, (x, y), &shown, hidden, line);
    let x = page.put(x, y, under, Ink::PLAIN.turned(true));
    marked(page, (x, y), right, left.len() + under.len(), line);
}

/// Puts text that begins at byte `from` of the line, what was not understood underlined.
fn marked(
    page: &mut Page,
    (x, y): (usize, usize),
    text: &str,
    from: usize,
    line: &EntryLine,
) -> usize {
    let bad = line.bad().cloned().unwrap_or(0..0);
    let cut = |at: usize| {
        let at = at.saturating_sub(from).min(text.len());
        if text.is_char_boundary(at) {
            at
        } else {
            text.len()
        }
    };
    let (start, end) = (cut(bad.start), cut(bad.end.max(bad.start)));
    let x = page.put(x, y, &text[..start], Ink::PLAIN);
    let x = page.put(x, y, &text[start..end], Ink::ALERT.underlined());
    page.put(x, y, &text[end..], Ink::PLAIN)
}

/// The end of a text, at most `columns` wide.
fn tail(text: &str, columns: usize) -> String {
    let mut start = text.len();
    for (i, _) in text.char_indices().rev() {
        if text::width(&text[i..]) > columns {
            break;
        }
        start = i;
    }
    text[start..].to_owned()
}

/// The notice in place of a screen that does not fit.
pub fn too_small(page: &mut Page) {
    // Short enough for 20 by 5.
    let words = format!(
        "Foreply needs {} by {}; this window has {} by {}. Make it larger: nothing is lost.",
        crate::tui::widgets::canvas::MIN_WIDTH,
        crate::tui::widgets::canvas::MIN_HEIGHT,
        page.width(),
        page.height()
    );
    let area = (0, 0, page.width(), page.height());
    page.put_wrapped(area, &words, Ink::PLAIN);
}
