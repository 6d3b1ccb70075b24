//! The terminal library's output with a reading of our own before it: what is pasted comes as the text that it is.
//!
//! The library does not ask the terminal to mark what is pasted (bracketed paste, the private mode 2004 of xterm's control
//! sequences), so a pasted Ctrl-C ended the program, and where a shell had left that mode on, a paste ended it in a panic.

use std::cell::Cell;
use std::collections::VecDeque;
use std::io::Write;
use std::time::Duration;

use cursive::backend::Backend;
use cursive::backends::crossterm::crossterm::event::{
    DisableBracketedPaste, EnableBracketedPaste, Event as Read, KeyCode, KeyEvent, KeyEventKind,
    KeyModifiers, MouseButton as Button, MouseEventKind, poll, read,
};
use cursive::backends::crossterm::crossterm::execute;
use cursive::event::{Event, Key, MouseButton, MouseEvent};
use cursive::style::{Color, ColorPair, Effect};
use cursive::{Vec2, backends::crossterm};

use crate::platform;
use crate::tui::TuiError;

/// How long a look for input may take.
const LOOK: Duration = Duration::from_millis(1);

/// The library's backend behind our reading.
pub(super) struct Pasting {
    inner: Box<dyn Backend>,
    /// Pasted, and not handed on yet.
    pasted: VecDeque<Event>,
    intensity: Cell<Intensity>,
}

/// Bold and faint end with one control sequence (ECMA-48, SGR 22), and the library ends an effect after it has begun the
/// next one: bold words behind faint ones were plain.
#[derive(Debug, Clone, Copy, Default)]
struct Intensity {
    bold: bool,
    faint: bool,
}

impl Intensity {
    fn with(self, effect: Effect, on: bool) -> Self {
        match effect {
            Effect::Bold => Self { bold: on, ..self },
            Effect::Dim => Self { faint: on, ..self },
            _ => self,
        }
    }
}

impl Pasting {
    fn over(inner: Box<dyn Backend>) -> Self {
        Self {
            inner,
            pasted: VecDeque::new(),
            intensity: Cell::default(),
        }
    }
}

/// Takes the terminal.
pub(super) fn take() -> Result<Box<dyn Backend>, TuiError> {
    let inner = crossterm::Backend::init().map_err(|e| TuiError::NoTerminal(e.to_string()))?;
    mark_pastes(true);
    Ok(Box::new(Pasting::over(inner)))
}

/// A terminal that does not know the mode takes no notice of it: pastes are keys there, as they were.
fn mark_pastes(on: bool) {
    if let Ok(mut out) = platform::terminal() {
        let _ = match on {
            true => execute!(out, EnableBracketedPaste),
            false => execute!(out, DisableBracketedPaste),
        };
        let _ = out.flush();
    }
}

impl Drop for Pasting {
    fn drop(&mut self) {
        mark_pastes(false);
    }
}

impl Backend for Pasting {
    fn poll_event(&mut self) -> Option<Event> {
        if let Some(event) = self.pasted.pop_front() {
            return Some(event);
        }
        // An error of reading is no event; whether the terminal is still there, the watch asks.
        while let Ok(true) = poll(LOOK) {
            match read().ok()? {
                Read::Paste(text) => {
                    self.pasted.extend(typed(&text));
                    if let Some(first) = self.pasted.pop_front() {
                        return Some(first);
                    }
                }
                other => {
                    if let Some(event) = event(&other) {
                        return Some(event);
                    }
                }
            }
        }
        None
    }

    fn set_title(&mut self, title: String) {
        self.inner.set_title(title);
    }

    fn refresh(&mut self) {
        self.inner.refresh();
    }

    fn has_colors(&self) -> bool {
        self.inner.has_colors()
    }

    fn screen_size(&self) -> Vec2 {
        self.inner.screen_size()
    }

    fn move_to(&self, at: Vec2) {
        self.inner.move_to(at);
    }

    fn print(&self, text: &str) {
        self.inner.print(text);
    }

    fn clear(&self, colour: Color) {
        self.inner.clear(colour);
    }

    fn set_color(&self, colours: ColorPair) -> ColorPair {
        self.inner.set_color(colours)
    }

    fn set_effect(&self, effect: Effect) {
        self.intensity.set(self.intensity.get().with(effect, true));
        self.inner.set_effect(effect);
    }

    fn unset_effect(&self, effect: Effect) {
        let left = self.intensity.get().with(effect, false);
        self.intensity.set(left);
        self.inner.unset_effect(effect);
        // What ended with it begins again.
        match effect {
            Effect::Dim if left.bold => self.inner.set_effect(Effect::Bold),
            Effect::Bold if left.faint => self.inner.set_effect(Effect::Dim),
            _ => {}
        }
    }

    fn is_persistent(&self) -> bool {
        self.inner.is_persistent()
    }

    fn name(&self) -> &str {
        self.inner.name()
    }
}

/// Pasted text as typed: ends of lines are Enter, and no other control character is a key.
fn typed(pasted: &str) -> impl Iterator<Item = Event> + '_ {
    let lines = pasted.replace("\r\n", "\n");
    let event = |c: char| match c {
        '\n' | '\r' => Some(Event::Key(Key::Enter)),
        '\t' => Some(Event::Char(' ')),
        c if c.is_control() => None,
        c => Some(Event::Char(c)),
    };
    lines
        .chars()
        .filter_map(event)
        .collect::<Vec<_>>()
        .into_iter()
}

/// What the terminal says, where it means something here.
fn event(read: &Read) -> Option<Event> {
    match read {
        Read::Key(key) if key.kind == KeyEventKind::Press => pressed(key),
        Read::Mouse(mouse) if mouse.kind == MouseEventKind::Down(Button::Left) => {
            Some(Event::Mouse {
                event: MouseEvent::Press(MouseButton::Left),
                position: (mouse.column, mouse.row).into(),
                offset: Vec2::zero(),
            })
        }
        Read::Resize(..) => Some(Event::WindowResize),
        _ => None,
    }
}

fn pressed(key: &KeyEvent) -> Option<Event> {
    let with = |modifier| key.modifiers.contains(modifier);
    let named = match key.code {
        KeyCode::Char(c) if with(KeyModifiers::CONTROL) => return Some(Event::CtrlChar(c)),
        KeyCode::Char(c) if with(KeyModifiers::ALT) => return Some(Event::AltChar(c)),
        KeyCode::Char(c) => return Some(Event::Char(c)),
        KeyCode::BackTab => return Some(Event::Shift(Key::Tab)),
        KeyCode::F(n @ 1..=12) => Key::from_f(n),
        KeyCode::Esc => Key::Esc,
        KeyCode::Enter => Key::Enter,
        KeyCode::Tab => Key::Tab,
        KeyCode::Backspace => Key::Backspace,
        KeyCode::Delete => Key::Del,
        KeyCode::Left => Key::Left,
        KeyCode::Right => Key::Right,
        KeyCode::Up => Key::Up,
        KeyCode::Down => Key::Down,
        KeyCode::Home => Key::Home,
        KeyCode::End => Key::End,
        KeyCode::PageUp => Key::PageUp,
        KeyCode::PageDown => Key::PageDown,
        _ => return None,
    };
    Some(match key.modifiers {
        m if m.contains(KeyModifiers::CONTROL) => Event::Ctrl(named),
        m if m.contains(KeyModifiers::ALT) => Event::Alt(named),
        m if m.contains(KeyModifiers::SHIFT) => Event::Shift(named),
        _ => Event::Key(named),
    })
}

#[cfg(test)]
mod tests {
    use std::cell::RefCell;
    use std::collections::BTreeSet;
    use std::rc::Rc;

    use super::*;

    #[test]
    fn what_is_pasted_is_text_and_ends_of_lines() {
        let events: Vec<Event> = typed("e4\te5\r\n\u{3}\u{1a}Nf3\u{1b}").collect();
        let chars = |text: &str| text.chars().map(Event::Char).collect::<Vec<_>>();
        let wanted = [chars("e4 e5"), vec![Event::Key(Key::Enter)], chars("Nf3")];
        assert_eq!(events, wanted.concat());
    }

    /// What a terminal shows: SGR 22 ends both.
    #[derive(Default, Clone)]
    struct Shown(Rc<RefCell<BTreeSet<&'static str>>>);

    impl Backend for Shown {
        fn poll_event(&mut self) -> Option<Event> {
            None
        }
        fn set_title(&mut self, _: String) {}
        fn refresh(&mut self) {}
        fn has_colors(&self) -> bool {
            false
        }
        fn screen_size(&self) -> Vec2 {
            Vec2::new(80, 24)
        }
        fn move_to(&self, _: Vec2) {}
        fn print(&self, _: &str) {}
        fn clear(&self, _: Color) {}
        fn set_color(&self, colours: ColorPair) -> ColorPair {
            colours
        }
        fn set_effect(&self, effect: Effect) {
            let name = match effect {
                Effect::Bold => "bold",
                Effect::Dim => "faint",
                _ => "other",
            };
            self.0.borrow_mut().insert(name);
        }
        fn unset_effect(&self, effect: Effect) {
            let mut shown = self.0.borrow_mut();
            match effect {
                Effect::Bold | Effect::Dim => shown.retain(|name| *name == "other"),
                _ => shown.retain(|name| *name != "other"),
            }
        }
    }

    /// In the order in which the library changes from one style to the next: first what is new, then what is gone.
    #[test]
    fn bold_behind_faint_is_bold() {
        let shown = Shown::default();
        let terminal = Pasting::over(Box::new(shown.clone()));
        let now = || {
            shown
                .0
                .borrow()
                .iter()
                .copied()
                .collect::<Vec<_>>()
                .join(" ")
        };
        terminal.set_effect(Effect::Dim);
        terminal.set_effect(Effect::Bold);
        terminal.unset_effect(Effect::Dim);
        assert_eq!(now(), "bold");
        terminal.set_effect(Effect::Underline);
        terminal.set_effect(Effect::Dim);
        terminal.unset_effect(Effect::Bold);
        assert_eq!(now(), "faint other");
        terminal.unset_effect(Effect::Underline);
        terminal.unset_effect(Effect::Dim);
        assert_eq!(now(), "");
    }

    #[test]
    fn keys_are_told_from_their_modifiers() {
        let key = |code, modifiers| event(&Read::Key(KeyEvent::new(code, modifiers)));
        let (none, ctrl) = (KeyModifiers::NONE, KeyModifiers::CONTROL);
        assert_eq!(key(KeyCode::Char('c'), ctrl), Some(Event::CtrlChar('c')));
        assert_eq!(
            key(KeyCode::Char('N'), KeyModifiers::SHIFT),
            Some(Event::Char('N'))
        );
        assert_eq!(key(KeyCode::F(10), none), Some(Event::Key(Key::F10)));
        assert_eq!(
            key(KeyCode::Up, KeyModifiers::SHIFT),
            Some(Event::Shift(Key::Up))
        );
        assert_eq!(key(KeyCode::BackTab, none), Some(Event::Shift(Key::Tab)));
        assert_eq!(key(KeyCode::Insert, none), None);
    }
}
