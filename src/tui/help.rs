//! The help: the commands of the screen it was asked on, from the one list.

use super::command::{self, Do, Place};
use super::frame;
use super::key::Key;
use super::model::{Next, Screen};
use super::page::{Ink, Page};
use crate::text;

/// Help for one screen.
pub struct HelpScreen {
    lines: Vec<(String, String)>,
    top: usize,
}

impl HelpScreen {
    /// The help for the commands of some places.
    #[must_use]
    pub fn of(places: &[Place]) -> Screen {
        let lines = command::COMMANDS
            .iter()
            .filter(|c| places.contains(&c.place))
            .map(|c| (keys(c.keys), c.words.to_owned()))
            .collect();
        Screen::Help(Self { lines, top: 0 })
    }

    pub fn press(mut self, key: Key) -> Next {
        match command::find(&[Place::Help], key) {
            Some(Do::Back) => return Next::Back,
            Some(Do::Up) => self.top = self.top.saturating_sub(1),
            Some(Do::Down) => self.top = (self.top + 1).min(self.lines.len().saturating_sub(1)),
            _ => {}
        }
        Next::Stay(Screen::Help(self))
    }

    pub fn draw(&self, page: &mut Page) {
        frame::title(page, "Keys", "");
        let bottom = page.height() - 1;
        let mut y = 2;
        for (keys, words) in self.lines.iter().skip(self.top) {
            let width = page.width() - 22;
            let rows = text::wrap(words, width).len();
            if y + rows > bottom {
                page.put_right(bottom - 1, "more below", Ink::QUIET);
                break;
            }
            page.put(0, y, keys, Ink::ACCENT.bold());
            y = page.put_wrapped((22, y, width, rows), words, Ink::PLAIN);
        }
        frame::bar(page, Place::Help);
    }
}

/// `F10 or Ctrl-G`; many in a row as their first and last.
fn keys(keys: &[Key]) -> String {
    if let ([first, .., last], true) = (keys, keys.len() > 5) {
        return format!("{first} to {last}");
    }
    let names: Vec<String> = keys.iter().map(Key::to_string).collect();
    names.join(" or ")
}
