//! The one view that the terminal library sees: it shows the router's canvas and hands it keys.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use cursive::event::{Event, EventResult, Key as Pressed, MouseButton, MouseEvent};
use cursive::view::View;
use cursive::{Printer, Vec2, direction::Direction, view::CannotFocus};

use crate::tui::input::key::KeyPress;
use crate::tui::router::Router;
use crate::tui::terminal::colours::Colours;
use crate::tui::widgets::canvas::{MIN_HEIGHT, MIN_WIDTH};

/// The router, shared between the view and the event loop, both on one thread.
#[derive(Clone)]
pub struct RouterHandle(Arc<Mutex<Router>>);

impl RouterHandle {
    #[must_use]
    pub fn new(router: Router) -> Self {
        Self(Arc::new(Mutex::new(router)))
    }

    pub fn lock(&self) -> MutexGuard<'_, Router> {
        // Only this thread locks; after a panic nothing is drawn any more, the sitting is closed.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The whole screen.
pub struct RootView {
    router: RouterHandle,
    colours: Colours,
    size: Vec2,
}

impl RootView {
    #[must_use]
    pub fn new(router: RouterHandle, colours: Colours) -> Self {
        Self {
            router,
            colours,
            size: Vec2::zero(),
        }
    }

    fn click(&self, at: Vec2) {
        let mut router = self.router.lock();
        let target = router.draw(self.size.x, self.size.y).target_at(at.x, at.y);
        if let Some(target) = target {
            router.click(target);
        }
    }
}

impl View for RootView {
    fn draw(&self, printer: &Printer) {
        let canvas = self.router.lock().draw(printer.size.x, printer.size.y);
        for span in canvas.spans() {
            printer.with_style(self.colours.style(span.style), |p| {
                p.print((span.x, span.y), &span.text);
            });
        }
    }

    fn required_size(&mut self, constraint: Vec2) -> Vec2 {
        constraint
    }

    fn layout(&mut self, size: Vec2) {
        self.size = size;
    }

    fn take_focus(&mut self, _: Direction) -> Result<EventResult, CannotFocus> {
        Ok(EventResult::consumed())
    }

    fn on_event(&mut self, event: Event) -> EventResult {
        // Keys must not work on a screen that cannot be seen.
        if self.size.x < MIN_WIDTH || self.size.y < MIN_HEIGHT {
            return EventResult::Ignored;
        }
        match event {
            Event::Mouse {
                offset,
                position,
                event: MouseEvent::Press(MouseButton::Left),
            } => self.click(position.saturating_sub(offset)),
            event => match key(&event) {
                Some(key) => self.router.lock().press(key),
                None => return EventResult::Ignored,
            },
        }
        EventResult::consumed()
    }
}

/// A key of the terminal library as ours; `None` for what means nothing here.
fn key(event: &Event) -> Option<KeyPress> {
    match event {
        Event::Char(c) => Some(KeyPress::Char(*c)),
        Event::CtrlChar(c) => Some(KeyPress::Ctrl(*c)),
        Event::Shift(Pressed::Up) => Some(KeyPress::ShiftUp),
        Event::Shift(Pressed::Down) => Some(KeyPress::ShiftDown),
        Event::Shift(Pressed::Tab) => Some(KeyPress::BackTab),
        Event::Shift(pressed) | Event::Key(pressed) => plain(*pressed),
        _ => None,
    }
}

fn plain(pressed: Pressed) -> Option<KeyPress> {
    let keys = [
        (Pressed::Enter, KeyPress::Enter),
        (Pressed::Esc, KeyPress::Esc),
        (Pressed::Tab, KeyPress::Tab),
        (Pressed::Backspace, KeyPress::Backspace),
        (Pressed::Del, KeyPress::Delete),
        (Pressed::Up, KeyPress::Up),
        (Pressed::Down, KeyPress::Down),
        (Pressed::Left, KeyPress::Left),
        (Pressed::Right, KeyPress::Right),
        (Pressed::Home, KeyPress::Home),
        (Pressed::End, KeyPress::End),
        (Pressed::PageUp, KeyPress::PageUp),
        (Pressed::PageDown, KeyPress::PageDown),
    ];
    let known = keys.iter().find(|(p, _)| *p == pressed).map(|(_, k)| *k);
    known.or_else(|| {
        (1..=12)
            .find(|n| Pressed::from_f(*n) == pressed)
            .map(KeyPress::F)
    })
}
