//! The help: the commands of the screen it was asked on, from the one list.

use crate::text;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::input::typed_command;
use crate::tui::router::{Next, Screen};
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;

/// Lines of a page.
const PAGE: usize = 10;

/// Columns before the words of a line that has a key.
const KEYS: usize = 22;

/// Help for one screen, or another text to be read.
pub struct HelpScreen {
    title: String,
    lines: Vec<(String, String)>,
    top: usize,
}

impl HelpScreen {
    /// The help for the commands of some places.
    #[must_use]
    pub fn of(places: &[Place]) -> Screen {
        let lines = bindings::COMMANDS
            .iter()
            .filter(|c| places.contains(&c.place))
            .map(|c| (keys(c.keys), c.words.to_owned()))
            .collect::<Vec<_>>();
        let typed = if places.contains(&Place::Entry) {
            typed()
        } else {
            Vec::new()
        };
        let lines = [typed, lines].concat();
        Screen::Help(Self {
            title: "What you type and press".to_owned(),
            lines,
            top: 0,
        })
    }

    /// Paragraphs under a title.
    #[must_use]
    pub fn text(title: &str, paragraphs: &[String]) -> Screen {
        let line = |words: &String| (String::new(), words.clone());
        Screen::Help(Self {
            title: title.to_owned(),
            lines: paragraphs.iter().map(line).collect(),
            top: 0,
        })
    }

    pub fn press(mut self, key: Key) -> Next {
        match bindings::find(&[Place::Help], key) {
            Some(Do::Back) => return Next::Back,
            Some(Do::Tour) => return Next::Tour,
            Some(Do::PageUp) => self.top = self.top.saturating_sub(PAGE),
            Some(Do::PageDown) => {
                self.top = (self.top + PAGE).min(self.lines.len().saturating_sub(1));
            }
            Some(Do::Up) => self.top = self.top.saturating_sub(1),
            Some(Do::Down) => self.top = (self.top + 1).min(self.lines.len().saturating_sub(1)),
            _ => {}
        }
        Next::Stay(Screen::Help(self))
    }

    pub fn draw(&self, page: &mut Page) {
        chrome::title(page, &self.title, "");
        let bottom = page.height() - 1;
        let mut y = 2;
        for (keys, words) in self.lines.iter().skip(self.top) {
            let (x, gap) = if keys.is_empty() { (2, 1) } else { (KEYS, 0) };
            let width = page.width() - x;
            let rows = text::wrap(words, width).len();
            if y + rows > bottom {
                page.put_right(0, "more below", Ink::QUIET);
                break;
            }
            page.put(0, y, keys, Ink::ACCENT.bold());
            y = page.put_wrapped((x, y, width, rows), words, Ink::PLAIN) + gap;
        }
        chrome::bar(page, Place::Help);
    }
}

/// What is typed: moves, verdicts and words, then the orders.
fn typed() -> Vec<(String, String)> {
    const WRITING: &[(&str, &str)] = &[
        (
            "Nxe4 dxe4 Qxe4",
            "a line of moves, below the cursor; as you would write it down, move numbers or not",
        ),
        (
            "+- +/- +/= =",
            "behind a move: White is winning, clearly better, better; level",
        ),
        ("-+ -/+ =/+ ~", "the same for Black; unclear"),
        ("65%", "what you expect the player to score from there"),
        (
            "{any words}",
            "a note on the move before; alone: on the move under the cursor",
        ),
        (
            "-- Qh7",
            "if he passes: a threat. It is kept and shown, and never judged as a move",
        ),
    ];
    let pair = |(left, right): (&str, &str)| (left.to_owned(), right.to_owned());
    let writing = WRITING.iter().copied().map(pair);
    let orders = typed_command::ORDERS
        .iter()
        .map(|(word, _, words)| pair((word, words)));
    let with_line = typed_command::WITH_LINE.iter().copied().map(pair);
    writing.chain(orders).chain(with_line).collect()
}

/// `F10 or Ctrl-G`; many in a row as their first and last.
fn keys(keys: &[Key]) -> String {
    if let ([first, .., last], true) = (keys, keys.len() > 5) {
        return format!("{first} to {last}");
    }
    let names: Vec<String> = keys.iter().map(Key::to_string).collect();
    names.join(" or ")
}
