//! The tour of one minute: beside a real sitting, what to do next, until the first review is read.
//!
//! What it says depends on the screen and on how many candidates and moves are written, never on what
//! they are. It presses no key and hides nothing that is needed.

use crate::tui::nav::tour_step::TourStep;
use crate::tui::widgets::board::BoardScale;
use crate::tui::widgets::canvas::{Canvas, TextStyle};

/// Number of steps.
const STEPS: usize = 7;
/// Most rows of a step, its head included.
const ROWS: usize = 8;

/// Column, row, columns, rows.
type StepArea = (usize, usize, usize, usize);

/// A step: its number, what it says, and where there is room for it.
fn lay_out(step: TourStep, canvas: &Canvas) -> (usize, &'static str, StepArea) {
    let scale = BoardScale::fitting(canvas);
    let (width, height) = (canvas.width(), canvas.height());
    let right = scale.width() + 3;
    let below = scale.height() + 3;
    let beside_tree = (right, height.saturating_sub(11), width - right, 7);
    match step {
        TourStep::Preview => {
            let room = height.saturating_sub(below + 2);
            (
                1,
                crate::translation::text(LOOK),
                (0, below, scale.width() + 4, room),
            )
        }
        TourStep::FirstMove => (2, crate::translation::text(FIRST), beside_tree),
        TourStep::FirstLine => (3, crate::translation::text(LINE), beside_tree),
        TourStep::NextCandidate => (3, crate::translation::text(NEXT), beside_tree),
        TourStep::Choose => (4, crate::translation::text(CHOOSE), beside_tree),
        TourStep::Commit => (
            5,
            crate::translation::text(COMMIT),
            (width / 2 + 2, height - 8, width / 2 - 2, 5),
        ),
        TourStep::Locked => (
            6,
            crate::translation::text(LOCKED),
            (4, height - 8, width - 8, 5),
        ),
        TourStep::Review => (
            7,
            crate::translation::text(REVIEW),
            (0, height - 4, width, 3),
        ),
    }
}

const LOOK: &str = tr_later!(
    "Write down what you would calculate at the board, then see where it and the \
                    truth part. First look. Enter starts the clock."
);
const FIRST: &str = tr_later!(
    "Type the first move you think of, as you would write it on a score sheet, and \
                     press Enter."
);
const LINE: &str = tr_later!(
    "Go on behind it: his reply, yours, as far as you see, all in one line. At the end \
                    how it stands: = level, +- White wins, -+ Black wins, or 65%."
);
const NEXT: &str = tr_later!(
    "Enter on the empty line goes back. Write a second candidate there. Nothing you type \
                    is judged yet, right or wrong."
);
const CHOOSE: &str = tr_later!(
    "Tab goes from candidate to candidate, F8 takes back. When the clock of a game \
                      would make you move: F10 chooses the candidate you are in."
);
const COMMIT: &str = tr_later!(
    "A last look at all of it. y locks the tree: from then on it is final, as a move \
                      at the board."
);
const LOCKED: &str =
    tr_later!("Enter compares the tree with the truth; the engine takes a moment.");
const REVIEW: &str = tr_later!(
    "First what it comes to and what held; n goes on, one finding at a time. Arrows step, \
                      t is your tree, F1 all keys. That was the tour."
);

/// Draws a step over what stands in its place.
pub fn draw(step: TourStep, canvas: &mut Canvas) {
    let (number, words, (x, y, width, rows)) = lay_out(step, canvas);
    canvas.clear((x, y, width, rows));
    let head = tr!("Tour {number} of {STEPS} (F12 ends it)");
    canvas.put(x, y, &head, TextStyle::ACCENT.bold());
    let rows = rows.min(ROWS).saturating_sub(1);
    canvas.put_wrapped((x, y + 1, width, rows), words, TextStyle::PLAIN);
}
