//! The help: the bindings of the screen it was asked on, from the one list.

use crate::text;
use crate::tui::input::action::{Action, CommonAction};
use crate::tui::input::bindings::{self, KeyContext};
use crate::tui::input::key::KeyPress;
use crate::tui::input::typed_command;
use crate::tui::nav::context::Context;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;

/// Lines of a page.
const PAGE: usize = 10;

/// Columns before the words of a line that has a key.
const KEYS: usize = 22;

const TITLE: &str = tr_later!("What you type and press");

/// Help for one screen.
pub struct HelpScreen {
    lines: Vec<(String, String)>,
    top: usize,
}

impl HelpScreen {
    /// The help for the bindings of some contexts.
    #[must_use]
    pub fn of(contexts: &[KeyContext]) -> Self {
        let lines = bindings::KEY_BINDINGS
            .iter()
            .filter(|c| contexts.contains(&c.context))
            .map(|c| (keys(c.keys), crate::translation::text(c.words).to_owned()))
            .collect::<Vec<_>>();
        let typed = if contexts.contains(&KeyContext::Writing) {
            typed()
        } else {
            Vec::new()
        };
        let lines = [typed, lines].concat();
        Self { lines, top: 0 }
    }
}

impl Screen for HelpScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        &[KeyContext::Help]
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, _ctx: &Context) -> Transition {
        let last = self.lines.len().saturating_sub(1);
        if let ScreenInput::Action(action) = input {
            match action {
                Action::Common(CommonAction::Back) => return Transition::Pop,
                Action::Common(CommonAction::Tour) => return Transition::StartTour,
                Action::Common(CommonAction::PageUp) => self.top = self.top.saturating_sub(PAGE),
                Action::Common(CommonAction::PageDown) => self.top = (self.top + PAGE).min(last),
                Action::Common(CommonAction::Up) => self.top = self.top.saturating_sub(1),
                Action::Common(CommonAction::Down) => self.top = (self.top + 1).min(last),
                _ => {}
            }
        }
        Transition::Stay(self)
    }

    fn draw(&self, canvas: &mut Canvas, _ctx: &Context) {
        chrome::title(canvas, crate::translation::text(TITLE), "");
        let bottom = canvas.height() - 1;
        let mut y = 2;
        for (keys, words) in self.lines.iter().skip(self.top) {
            let (x, gap) = if keys.is_empty() { (2, 1) } else { (KEYS, 0) };
            let width = canvas.width() - x;
            let rows = text::wrap(words, width).len();
            if y + rows > bottom {
                canvas.put_right(0, tr!("more below"), TextStyle::QUIET);
                break;
            }
            canvas.put(0, y, keys, TextStyle::ACCENT.bold());
            y = canvas.put_wrapped((x, y, width, rows), words, TextStyle::PLAIN) + gap;
        }
        chrome::bar(canvas, KeyContext::Help);
    }
}

/// What is typed: moves, verdicts and words, then the commands.
fn typed() -> Vec<(String, String)> {
    const WRITING: &[(&str, &str)] = &[
        (
            "Nxe4 dxe4 Qxe4",
            tr_later!(
                "a line of moves, below the cursor; as you would write it down, move numbers or not"
            ),
        ),
        (
            "Sf3, Cf3, Кf3",
            tr_later!("the piece letters of your language: --letters german"),
        ),
        (
            "+- +/- +/= =",
            tr_later!("behind a move: White is winning, clearly better, better; level"),
        ),
        ("-+ -/+ =/+ ~", tr_later!("the same for Black; unclear")),
        (
            "65%",
            tr_later!("what you expect the player to score from there"),
        ),
        (
            tr_later!("{any words}"),
            tr_later!("a note on the move before; alone: on the move under the cursor"),
        ),
        (
            "-- Qh7",
            tr_later!("if he passes: a threat. It is kept and shown, and never judged as a move"),
        ),
    ];
    let text = crate::translation::text;
    let pair = |(left, right): (&'static str, &'static str)| {
        (text(left).to_owned(), text(right).to_owned())
    };
    let writing = WRITING.iter().copied().map(pair);
    let commands = typed_command::TYPED_COMMANDS
        .iter()
        .map(|(word, _, words)| pair((word, words)));
    let with_line = typed_command::WITH_LINE.iter().copied().map(pair);
    writing.chain(commands).chain(with_line).collect()
}

/// `F10 or Ctrl-G`; many in a row as their first and last.
fn keys(keys: &[KeyPress]) -> String {
    if let ([first, .., last], true) = (keys, keys.len() > 5) {
        return tr!("{first} to {last}");
    }
    let names: Vec<String> = keys.iter().map(KeyPress::to_string).collect();
    names.join(tr!(" or "))
}
