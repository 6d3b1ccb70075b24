//! The tour of one minute: beside a real sitting, what to do next, until the first review is read.
//!
//! What it says depends on the screen and on how many candidates and moves are written, never on what
//! they are. It presses no key and hides nothing that is needed.

use crate::tree::{NodeId, Tree};
use crate::tui::router::Screen;
use crate::tui::screens::writing::screen::Entry;
use crate::tui::widgets::board::Scale;
use crate::tui::widgets::canvas::{Ink, Page};

/// When it is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Touring {
    /// Never by itself.
    #[default]
    Never,
    /// When nothing was ever written, and it was not shown before.
    Once,
    /// From the start on.
    Now,
}

/// Number of steps.
const STEPS: usize = 7;
/// Most rows of a step, its head included.
const ROWS: usize = 8;

/// One step: its number, what it says, and where there is room for it (column, row, columns, rows).
struct Step {
    number: usize,
    words: &'static str,
    area: (usize, usize, usize, usize),
}

/// The step for a screen; `None` where it has nothing to say.
fn step(screen: &Screen, page: &Page) -> Option<Step> {
    let scale = Scale::fitting(page);
    let (width, height) = (page.width(), page.height());
    let right = scale.width() + 3;
    let (number, words, area) = match screen {
        Screen::Look(_) => {
            let below = scale.height() + 3;
            let room = height.saturating_sub(below + 2);
            (1, LOOK, (0, below, scale.width() + 4, room))
        }
        Screen::Entry(entry) => {
            let (number, words) = writing(entry);
            let top = height.saturating_sub(11);
            (number, words, (right, top, width - right, 7))
        }
        Screen::Commit(_) => (5, COMMIT, (width / 2 + 2, height - 8, width / 2 - 2, 5)),
        Screen::Locked(_) => (6, LOCKED, (4, height - 8, width - 8, 5)),
        Screen::Review(_) => (7, REVIEW, (0, height - 4, width, 3)),
        _ => return None,
    };
    Some(Step {
        number,
        words,
        area,
    })
}

const LOOK: &str = "Write down what you would calculate at the board, then see where it and the \
                    truth part. First look. Enter starts the clock.";
const FIRST: &str = "Type the first move you think of, as you would write it on a score sheet, and \
                     press Enter.";
const LINE: &str = "Go on behind it: his reply, yours, as far as you see, all in one line. At the end \
                    how it stands: = level, +- White wins, -+ Black wins, or 65%.";
const NEXT: &str = "Enter on the empty line goes back. Write a second candidate there. Nothing you type \
                    is judged yet, right or wrong.";
const CHOOSE: &str = "Tab goes from candidate to candidate, F8 takes back. When the clock of a game \
                      would make you move: F10 chooses the candidate you are in.";
const COMMIT: &str = "A last look at all of it. y locks the tree: from then on it is final, as a move \
                      at the board.";
const LOCKED: &str = "Enter compares the tree with the truth; the engine takes a moment.";
const REVIEW: &str = "What held comes first, then one finding at a time: n the next, arrows step, Space \
                      your line or the true one, F1 all keys. That was the tour.";

/// The step of the entry: how far the tree has come.
fn writing(entry: &Entry) -> (usize, &'static str) {
    let tree = entry.sitting.tree();
    match tree.children(NodeId::ROOT).len() {
        0 => (2, FIRST),
        1 if !has_line(tree) => (3, LINE),
        1 => (3, NEXT),
        _ => (4, CHOOSE),
    }
}

/// True where a reply is written and something is judged.
fn has_line(tree: &Tree) -> bool {
    tree.len() > 1 && tree.nodes().any(|(_, node)| node.verdict.is_some())
}

/// Draws the step that belongs to a screen over what stands in its place.
pub fn draw(screen: &Screen, page: &mut Page) {
    let Some(step) = step(screen, page) else {
        return;
    };
    let (x, y, width, rows) = step.area;
    page.clear((x, y, width, rows));
    let head = format!("Tour {} of {STEPS} (F12 ends it)", step.number);
    page.put(x, y, &head, Ink::ACCENT.bold());
    let rows = rows.min(ROWS).saturating_sub(1);
    page.put_wrapped((x, y + 1, width, rows), step.words, Ink::PLAIN);
}
