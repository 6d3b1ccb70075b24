//! The second look: after the lock and before the review, two minutes to write what is seen now.
//!
//! What is written is kept apart from the tree, which is final.

use std::collections::HashSet;

use crate::attempt::AttemptEvent;
use crate::text;
use crate::tui::input::action::{Action, CommonAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::sessions::LockedAttempt;
use crate::tui::widgets::board::{BoardAppearance, BoardScale, BoardView};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::variation_tree::{TreeView, unmarked};

use shakmaty::Position;

/// How long it lasts, in milliseconds.
const LASTS_MS: u64 = 120_000;

const CONTEXTS: &[KeyContext] = &[KeyContext::SecondLook, KeyContext::Line];

/// The second look at one locked tree.
pub struct SecondLookScreen {
    locked: LockedAttempt,
    look: BoardAppearance,
    line: LineEditor,
    notice: Option<Notice>,
}

impl SecondLookScreen {
    /// Begins it, or takes it up again.
    #[must_use]
    pub fn begin(mut locked: LockedAttempt) -> Self {
        let begun = match locked.sitting.attempt().after().looked_again_ms() {
            Some(_) => Ok(()),
            None => locked.sitting.add(AttemptEvent::SecondLook),
        };
        Self {
            look: BoardAppearance::of(locked.sitting.tree().root().root()),
            locked,
            line: LineEditor::default(),
            notice: begun.err().map(|e| Notice::error(&e)),
        }
    }

    fn left_ms(&self) -> u64 {
        let since = self.locked.sitting.attempt().after().looked_again_ms();
        let used = since.map_or(0, |since| {
            self.locked.sitting.now_ms().saturating_sub(since)
        });
        LASTS_MS.saturating_sub(used)
    }

    fn clock(&self) -> String {
        text::clock(self.left_ms().div_ceil(1000) * 1000)
    }

    fn act(mut self: Box<Self>, action: Action) -> Transition {
        match action {
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Back) => return self.over(),
            Action::Common(CommonAction::Open) if self.line.text().trim().is_empty() => {
                return self.over();
            }
            Action::Common(CommonAction::Open) => self.keep(),
            Action::Common(CommonAction::Flip) => self.look.flip(),
            Action::Edit(edit) => self.line.edit(edit),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn over(self: Box<Self>) -> Transition {
        Transition::Replace(Route::Locked(Box::new(self.locked)))
    }

    fn keep(&mut self) {
        if self.left_ms() == 0 {
            let words = tr!("The two minutes are over: what was written before is kept.");
            self.notice = Some(Notice::Alert(words.to_owned()));
            return;
        }
        let text = self.line.text().trim().to_owned();
        match self.locked.sitting.add(AttemptEvent::NowSeen { text }) {
            Ok(()) => {
                self.line.finish();
            }
            Err(error) => self.notice = Some(Notice::error(&error)),
        }
    }
}

impl Screen for SecondLookScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, _ctx: &Context) -> Transition {
        if !matches!(input, ScreenInput::Click(_)) {
            self.notice = None;
        }
        match input {
            ScreenInput::Action(action) => return self.act(action),
            ScreenInput::Char(c) => self.line.insert(c),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn time_text(&self, _ctx: &Context) -> String {
        self.clock()
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let title = tr!("{}: a second look", self.locked.label);
        chrome::title(canvas, &title, &self.clock());
        let scale = BoardScale::fitting(canvas);
        let tree = self.locked.sitting.tree();
        let view = BoardView {
            board: tree.root().root().board(),
            look: self.look,
            glyphs: ctx.display.glyphs,
            marked: &[],
        };
        view.draw(canvas, 0, 2, scale);
        let x = scale.width() + 3;
        let (width, height) = (canvas.width() - x, canvas.height().saturating_sub(7));
        let own = height.saturating_sub(self.locked.sitting.attempt().after().seen().len() + 3);
        let view = TreeView {
            tree,
            choice: self.locked.sitting.attempt().choice(),
            cursor: None,
            candidates_only: false,
            folded: &HashSet::new(),
            mark: &unmarked,
            ascii: ctx.display.glyphs.ascii,
        };
        view.draw(canvas, (x, 2, width, own));
        let mut y = 3 + own;
        canvas.put(x, y, tr!("What I now see"), TextStyle::QUIET);
        for (_, seen) in self.locked.sitting.attempt().after().seen() {
            y += 1;
            canvas.put(x + 2, y, seen, TextStyle::PLAIN);
        }
        let words = tr!(
            "Your tree stays as it is. Write what you see now, a line or words, each with Enter."
        );
        canvas.put_wrapped(
            (0, 4 + scale.height(), scale.width(), 6),
            words,
            TextStyle::QUIET,
        );
        let bottom = canvas.height();
        if let Some(notice) = &self.notice {
            notice.draw(canvas, bottom - 3);
        }
        chrome::entry_line(canvas, bottom - 2, tr!("now I see >"), &self.line);
        chrome::bar(canvas, KeyContext::SecondLook);
    }
}
