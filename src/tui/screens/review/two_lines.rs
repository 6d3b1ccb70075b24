//! His line and the true one, below each other, with the first move in which they differ.

use shakmaty::{Color, Position};

use crate::board::Line;
use crate::text;
use crate::tui::screens::review::open_review::{OpenReview, ReviewPane};
use crate::tui::widgets::canvas::{Canvas, TextStyle};

/// Draws the lines from a row on, into so many rows together. A line that is too long for its share is
/// shown around the move that the board stands at.
pub(super) fn draw(
    canvas: &mut Canvas,
    review: &OpenReview,
    (y, rows): (usize, usize),
    ascii: bool,
) {
    let lines = review.rows();
    let step = review.step();
    let tree = review.pane == ReviewPane::Tree;
    let on_own = lines.other.is_none() || review.own || tree;
    let layout = LineLayout {
        width: canvas.width(),
        shared: lines.shared,
        first: first_number(review.attempt.tree().root()),
        ascii,
    };
    let own = layout.rows(&lines.own, on_own.then_some(step));
    let Some((name, other)) = &lines.other else {
        return put(canvas, tr!("your line"), on_own, &own, (y, rows));
    };
    let other = layout.rows(other, (!on_own).then_some(step));
    let half = rows / 2;
    let upper = own.len().min(half.max(rows.saturating_sub(other.len())));
    put(canvas, tr!("your line"), on_own, &own, (y, upper));
    put(canvas, name, !on_own, &other, (y + upper, rows - upper));
}

/// Number of the first half-move, White's first move of the game being 2.
fn first_number(root: &Line) -> usize {
    let full = usize::try_from(root.root().fullmoves().get()).unwrap_or(1);
    2 * full + usize::from(root.player() == Color::Black)
}

/// Column in which the moves of the two lines begin.
const INDENT: usize = 13;

/// One word of a line at its column, and whether the board stands behind it.
struct LineWord {
    x: usize,
    text: String,
    style: TextStyle,
    is_at: bool,
}

struct LineLayout {
    width: usize,
    shared: usize,
    first: usize,
    ascii: bool,
}

impl LineLayout {
    /// The moves in rows; `step` marks how far the board has followed them.
    fn rows(&self, moves: &[String], step: Option<usize>) -> Vec<Vec<LineWord>> {
        let mut rows = vec![Vec::new()];
        let mut x = INDENT;
        for (i, san) in moves.iter().enumerate() {
            let number = number(self.first + i, i == 0, self.ascii);
            let differs = i == self.shared;
            // The underline is not visible everywhere: the brackets say it too.
            let san = if differs {
                format!("[{san}]")
            } else {
                san.clone()
            };
            let wanted = text::width(&number) + text::width(&san);
            if x > INDENT && x + wanted > self.width {
                rows.push(Vec::new());
                x = INDENT;
            }
            let plain = TextStyle::PLAIN;
            let style = if differs {
                plain.bold().underlined()
            } else {
                plain
            };
            let is_at = step == Some(i + 1);
            let mut word = |text: String, style, is_at| {
                let columns = text::width(&text);
                let word = LineWord {
                    x,
                    text,
                    style,
                    is_at,
                };
                if let Some(row) = rows.last_mut() {
                    row.push(word);
                }
                x += columns;
            };
            word(number, TextStyle::QUIET, false);
            word(san, style.turned(is_at), is_at);
            x += 1;
        }
        if moves.len() <= self.shared {
            self.end(&mut rows, x);
        }
        rows
    }

    fn end(&self, rows: &mut Vec<Vec<LineWord>>, x: usize) {
        let words = tr!("(ends here)");
        let fits = x + crate::text::width(words) <= self.width;
        if !fits {
            rows.push(Vec::new());
        }
        let word = LineWord {
            x: if fits { x } else { INDENT },
            text: words.to_owned(),
            style: TextStyle::QUIET,
            is_at: false,
        };
        if let Some(row) = rows.last_mut() {
            row.push(word);
        }
    }
}

/// Puts rows into a place of so many, those around where the board stands.
fn put(
    canvas: &mut Canvas,
    name: &str,
    followed: bool,
    rows: &[Vec<LineWord>],
    (y, room): (usize, usize),
) {
    let sign = if followed { ">" } else { " " };
    canvas.put(0, y, sign, TextStyle::ACCENT.bold());
    canvas.put(2, y, name, TextStyle::QUIET);
    let at = rows.iter().position(|row| row.iter().any(|w| w.is_at));
    let at = at.unwrap_or(0);
    let top = at
        .saturating_sub(room / 2)
        .min(rows.len().saturating_sub(room));
    for (i, row) in rows.iter().skip(top).take(room).enumerate() {
        for word in row {
            canvas.put(word.x, y + i, &word.text, word.style);
        }
    }
    let more = rows.len() - top > room || top > 0;
    if more && room > 1 {
        canvas.put(2, y + 1, tr!("(Left Right)"), TextStyle::QUIET);
    }
}

fn number(half: usize, first: bool, ascii: bool) -> String {
    match (half % 2, first) {
        (0, _) => format!("{}.", half / 2),
        (_, true) if ascii => format!("{}...", half / 2),
        (_, true) => format!("{}…", half / 2),
        _ => String::new(),
    }
}
