//! A terminal that is none: keys in, frames out.

use crossbeam_channel::{Receiver, Sender};
use cursive::backends::puppet::Backend;
use cursive::backends::puppet::observed::{GraphemePart, ObservedScreen, ObservedStyle};
use cursive::event::{Event, Key as Pressed, MouseButton, MouseEvent};
use cursive::{Cursive, CursiveRunner, Vec2};
use jiff::tz::TimeZone;

use crate::app::App;
use crate::board::line;
use crate::notation::Letters;
use crate::tui::input::key::KeyPress;
use crate::tui::nav::context::{Context, DisplayOptions, NewAttemptOptions, ReportTexts};
use crate::tui::router::Router;
use crate::tui::terminal::colours::Colours;
use crate::tui::terminal::event_loop;
use crate::tui::terminal::root_view::RouterHandle;
use crate::tui::widgets::board::Glyphs;
use crate::tui::{Start, Touring};

/// The smallest screen, or another.
pub(crate) struct Rig {
    pub(crate) router: RouterHandle,
    runner: CursiveRunner<Cursive>,
    input: Sender<Option<Event>>,
    frames: Receiver<ObservedScreen>,
    last: Option<ObservedScreen>,
    size: Vec2,
}

pub(crate) fn context(app: &App) -> Context {
    Context {
        app: app.clone(),
        display: DisplayOptions {
            glyphs: Glyphs {
                ascii: true,
                plain: false,
            },
            letters: Letters::default(),
            zone: TimeZone::UTC,
            tour: Touring::Never,
        },
        new_attempts: NewAttemptOptions::default(),
        texts: ReportTexts {
            method: || "Each figure has its method.".to_owned(),
            quick: |quick| {
                let tries: u64 = quick.ladders.iter().map(|l| l.solved.of).sum();
                format!("{tries} tries at speed.")
            },
            progress: |report| format!("{} attempts are counted.", report.attempts),
            account: |account| format!("The account: {}.", account.end),
            sheet: |sheet, fitted| {
                let tags = sheet.tags.iter().map(|(n, v)| format!("[{n} \"{v}\"]\n"));
                let moves = line::sans(&sheet.start, &fitted.moves).join(" ");
                format!("{}\n{moves} {}\n", tags.collect::<String>(), sheet.result)
            },
            opponent: |facts| format!("{} is told.", facts.name),
            event: |read| format!("{} rounds are told.", read.account.rounds.len()),
            own_game_stops: |read| vec![(read.account.moves.len() / 2, "Half of it.".to_owned())],
            own_game: |read| format!("{} moves are told.", read.account.moves.len()),
            thoughts: |read| format!("{} moments were marked.", read.thoughts.marks.len()),
        },
    }
}

impl Rig {
    pub(crate) fn new(app: &App, start: &Start) -> Self {
        Self::sized(app, start, (80, 24))
    }

    pub(crate) fn sized(app: &App, start: &Start, size: (usize, usize)) -> Self {
        let router = Router::new(context(app), start).unwrap();
        Self::with_router(router, size)
    }

    pub(crate) fn with_router(router: Router, size: (usize, usize)) -> Self {
        let backend = Backend::init(Some(Vec2::from(size)));
        let (input, frames) = (backend.input(), backend.stream());
        let router = RouterHandle::new(router);
        let siv = event_loop::cursive(&router, Colours::True);
        let mut rig = Self {
            router,
            runner: CursiveRunner::new(siv, backend),
            input,
            frames,
            last: None,
            size: Vec2::from(size),
        };
        rig.runner.refresh();
        rig.pump();
        rig
    }

    /// Presses keys in the notation of [`KeyPress::script`].
    pub(crate) fn keys(&mut self, script: &str) -> &mut Self {
        for key in KeyPress::script(script) {
            self.input.send(Some(event(key))).unwrap();
            self.pump();
        }
        self
    }

    pub(crate) fn click(&mut self, x: usize, y: usize) -> &mut Self {
        let event = Event::Mouse {
            offset: Vec2::zero(),
            position: Vec2::new(x, y),
            event: MouseEvent::Press(MouseButton::Left),
        };
        self.input.send(Some(event)).unwrap();
        self.pump();
        self
    }

    /// Clicks on the first place where some words stand.
    pub(crate) fn click_on(&mut self, words: &str) -> &mut Self {
        let text = self.text();
        let found = text.lines().enumerate().find_map(|(y, l)| {
            let at = l.find(words)?;
            Some((l[..at].chars().count(), y))
        });
        let (x, y) = found.unwrap_or_else(|| panic!("'{words}' is not on the screen:\n{text}"));
        self.click(x, y)
    }

    /// Lets the event loop look at the clock and at what goes on behind, until `done` is on the screen.
    pub(crate) fn wait_for(&mut self, done: &str) -> &mut Self {
        for _ in 0..2_000 {
            // Drawn again only where something has changed.
            if self.router.lock().tick() {
                self.pump();
            }
            if self.text().contains(done) {
                return self;
            }
            std::thread::sleep(std::time::Duration::from_millis(5));
        }
        panic!("'{done}' never came:\n{}", self.text());
    }

    pub(crate) fn pump(&mut self) {
        while self.runner.process_events() {}
        // As the event loop does it.
        self.router.lock().tick();
        self.runner.refresh();
        while let Ok(frame) = self.frames.try_recv() {
            self.last = Some(frame);
        }
    }

    fn cell(&self, x: usize, y: usize) -> Option<(String, ObservedStyle)> {
        let cell = self.last.as_ref()?[Vec2::new(x, y)].as_ref()?;
        match &cell.letter {
            GraphemePart::Begin(letter) => Some((letter.clone(), (*cell.style).clone())),
            GraphemePart::Continuation => Some((String::new(), (*cell.style).clone())),
        }
    }

    /// The screen as text.
    pub(crate) fn text(&self) -> String {
        let row = |y: usize| -> String {
            let cells = (0..self.size.x).map(|x| self.cell(x, y).map_or(" ".to_owned(), |c| c.0));
            cells.collect::<String>().trim_end().to_owned()
        };
        let rows: Vec<String> = (0..self.size.y).map(row).collect();
        rows.join("\n")
    }

    /// Colours and effects of every cell, without its letter.
    pub(crate) fn styles(&self) -> Vec<Option<ObservedStyle>> {
        let size = self.size;
        let places = (0..size.y).flat_map(|y| (0..size.x).map(move |x| (x, y)));
        places.map(|(x, y)| self.cell(x, y).map(|c| c.1)).collect()
    }
}

fn event(key: KeyPress) -> Event {
    let plain = |pressed| Event::Key(pressed);
    match key {
        KeyPress::Char(c) => Event::Char(c),
        KeyPress::Ctrl(c) => Event::CtrlChar(c),
        KeyPress::F(n) => plain(Pressed::from_f(n)),
        KeyPress::ShiftUp => Event::Shift(Pressed::Up),
        KeyPress::ShiftDown => Event::Shift(Pressed::Down),
        KeyPress::BackTab => Event::Shift(Pressed::Tab),
        KeyPress::Enter => plain(Pressed::Enter),
        KeyPress::Esc => plain(Pressed::Esc),
        KeyPress::Tab => plain(Pressed::Tab),
        KeyPress::Backspace => plain(Pressed::Backspace),
        KeyPress::Delete => plain(Pressed::Del),
        KeyPress::Up => plain(Pressed::Up),
        KeyPress::Down => plain(Pressed::Down),
        KeyPress::Left => plain(Pressed::Left),
        KeyPress::Right => plain(Pressed::Right),
        KeyPress::Home => plain(Pressed::Home),
        KeyPress::End => plain(Pressed::End),
        KeyPress::PageUp => plain(Pressed::PageUp),
        KeyPress::PageDown => plain(Pressed::PageDown),
    }
}
