//! What all screens have in common: title, bottom line, answers, the text of an entry line.

use crate::text;
use crate::tui::input::action::Action;
use crate::tui::input::bindings::{self, KeyContext};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::line_editor::LineEditor;

/// A short answer of the program, until the next key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Notice {
    Quiet(String),
    Alert(String),
}

impl Notice {
    /// An error in its own words.
    #[must_use]
    pub fn error(error: &impl std::fmt::Display) -> Self {
        Self::Alert(error.to_string())
    }

    /// Draws all of it, the last line in row `bottom`.
    pub fn draw(&self, canvas: &mut Canvas, bottom: usize) {
        let (words, style) = match self {
            Self::Quiet(words) => (words, TextStyle::PLAIN),
            Self::Alert(words) => (words, TextStyle::ALERT.bold()),
        };
        let lines = text::wrap(&text::safe(words), canvas.width()).len();
        let lines = lines.min(bottom);
        let top = bottom + 1 - lines;
        canvas.clear((0, top, canvas.width(), lines));
        canvas.put_wrapped((0, top, canvas.width(), lines), words, style);
    }
}

/// Title at the left, something short at the right.
pub fn title(canvas: &mut Canvas, left: &str, right: &str) {
    // A long name gives way to what stands at the right; it is told whole in the source and the history.
    let room = canvas.width().saturating_sub(text::width(right) + 2);
    let left = if text::width(left) > room {
        text::fit(left, room)
    } else {
        left.to_owned()
    };
    canvas.put(0, 0, &left, TextStyle::ACCENT.bold());
    canvas.put_right(0, right, TextStyle::PLAIN.bold());
}

/// The bottom line: keys and what they do.
pub fn bar(canvas: &mut Canvas, context: KeyContext) {
    bar_without(canvas, context, &[]);
}

/// The bottom line without some actions that mean nothing now.
pub fn bar_without(canvas: &mut Canvas, context: KeyContext, without: &[Action]) {
    let y = canvas.height() - 1;
    let mut x = 0;
    for (key, short) in bindings::bar(context, without) {
        x = canvas.put(x, y, &key, TextStyle::ACCENT.bold()) + 1;
        x = canvas.put(x, y, short, TextStyle::QUIET) + 2;
    }
}

/// A prompt and the line being typed, scrolled so that the cursor can be seen.
pub fn entry_line(canvas: &mut Canvas, y: usize, prompt: &str, line: &LineEditor) {
    // The prompt may take half of the line; what he types has the rest.
    let half = canvas.width() / 2;
    let prompt = if text::width(prompt) > half {
        let cut: String = tail(prompt, half - 1);
        format!("…{cut}")
    } else {
        prompt.to_owned()
    };
    let x = canvas.put(0, y, &prompt, TextStyle::QUIET) + 1;
    let (left, under, right) = line.parts();
    let room = canvas.width().saturating_sub(x + 1);
    let shown = tail(left, room);
    let hidden = left.len() - shown.len();
    let x = marked(canvas, (x, y), &shown, hidden, line);
    let x = canvas.put_as_typed(x, y, under, TextStyle::PLAIN.turned(true));
    marked(canvas, (x, y), right, left.len() + under.len(), line);
}

/// Puts text that begins at byte `from` of the line, what was not understood underlined.
fn marked(
    canvas: &mut Canvas,
    (x, y): (usize, usize),
    text: &str,
    from: usize,
    line: &LineEditor,
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
    let x = canvas.put_as_typed(x, y, &text[..start], TextStyle::PLAIN);
    let x = canvas.put_as_typed(x, y, &text[start..end], TextStyle::ALERT.underlined());
    canvas.put_as_typed(x, y, &text[end..], TextStyle::PLAIN)
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
pub fn too_small(canvas: &mut Canvas) {
    // Short enough for 20 by 5.
    let words = tr!(
        "Foreply needs {} by {}; this window has {} by {}. Make it larger: nothing is lost.",
        crate::tui::widgets::canvas::MIN_WIDTH,
        crate::tui::widgets::canvas::MIN_HEIGHT,
        canvas.width(),
        canvas.height()
    );
    let area = (0, 0, canvas.width(), canvas.height());
    canvas.put_wrapped(area, &words, TextStyle::PLAIN);
}
