//! His line and the true one, below each other, with the first move in which they differ.

use shakmaty::{Color, Position};

use crate::board::Line;
use crate::text;
use crate::tui::screens::review::open_review::OpenReview;
use crate::tui::widgets::canvas::{Canvas, TextStyle};

/// Draws the two lines; gives the row below them.
pub(super) fn draw(canvas: &mut Canvas, review: &OpenReview, y: usize, ascii: bool) -> usize {
    let rows = review.rows();
    let mut row = LineRow {
        canvas,
        shared: rows.shared,
        first: first_number(review.attempt.tree().root()),
        ascii,
        y,
    };
    if review.finding().is_none() && review.moment.is_none() {
        row.draw("your line", &rows.own, Some(review.step));
        return row.y;
    }
    row.draw("your line", &rows.own, review.own.then_some(review.step));
    let name = if review.his_side {
        "his plan"
    } else {
        "the truth"
    };
    row.draw(name, &rows.truth, (!review.own).then_some(review.step));
    row.y
}

/// Number of the first half-move, White's first move of the game being 2.
fn first_number(root: &Line) -> usize {
    let full = usize::try_from(root.root().fullmoves().get()).unwrap_or(1);
    2 * full + usize::from(root.player() == Color::Black)
}

/// Column in which the moves of the two lines begin.
const INDENT: usize = 13;

struct LineRow<'a> {
    canvas: &'a mut Canvas,
    shared: usize,
    first: usize,
    ascii: bool,
    y: usize,
}

impl LineRow<'_> {
    /// Draws one line over at most two rows; `step` marks how far the board has followed it.
    fn draw(&mut self, name: &str, moves: &[String], step: Option<usize>) {
        let sign = if step.is_some() { ">" } else { " " };
        self.canvas.put(0, self.y, sign, TextStyle::ACCENT.bold());
        self.canvas.put(2, self.y, name, TextStyle::QUIET);
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
            if x > INDENT && x + text::width(&number) + text::width(&san) > self.canvas.width() {
                self.y += 1;
                x = INDENT;
            }
            x = self.canvas.put(x, self.y, &number, TextStyle::QUIET);
            let style = if differs {
                TextStyle::PLAIN.bold().underlined()
            } else {
                TextStyle::PLAIN
            };
            let style = style.turned(step == Some(i + 1));
            x = self.canvas.put(x, self.y, &san, style) + 1;
        }
        if moves.len() <= self.shared {
            self.end(x);
        }
        self.y += 1;
    }

    fn end(&mut self, x: usize) {
        const WORDS: &str = "(ends here)";
        let fits = x + WORDS.len() <= self.canvas.width();
        self.y += usize::from(!fits);
        self.canvas.put(
            if fits { x } else { INDENT },
            self.y,
            WORDS,
            TextStyle::QUIET,
        );
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
