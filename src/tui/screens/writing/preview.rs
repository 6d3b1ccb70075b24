//! The position before writing: the board, and in words what it does not show.

use shakmaty::{Color, Position};

use crate::app::{AppError, AttemptSession, Subject};
use crate::attempt::BoardVisibility;
use crate::notation::Letters;
use crate::text;
use crate::tui::input::action::{Action, CommonAction, ListAction, WritingAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::labels;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::sessions::OpenAttempt;
use crate::tui::nav::tour_step::TourStep;
use crate::tui::widgets::board::{BoardAppearance, BoardScale, BoardView};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::clock;
use crate::tui::widgets::position_text;

const CONTEXTS: &[KeyContext] = &[KeyContext::Preview];

/// The first look.
pub struct PreviewScreen {
    sitting: AttemptSession,
    label: String,
    /// What the coach says of it, where it is homework; may come from a file.
    task: String,
    look: BoardAppearance,
    /// Milliseconds of looking before writing may begin; 0 for none.
    closed_ms: u64,
    notice: Option<Notice>,
}

/// How long the board is seen in a sitting without sight, where the player names no other time, in
/// seconds.
const SIGHT_S: u32 = 60;

impl PreviewScreen {
    /// Opens a new sitting on its first look.
    ///
    /// # Errors
    /// There is no such drill, or the opening could not be kept.
    pub fn open(ctx: &Context, subject: &Subject) -> Result<Self, AppError> {
        let new = ctx.new_attempts;
        let sitting = ctx
            .app
            .attempts()
            .open_sitting(subject, new.minutes, new.sight)?;
        let label = labels::origin(&ctx.app, &sitting.attempt().opened().origin);
        let task = ctx.app.homework().said_of(sitting.attempt())?;
        Ok(Self {
            task,
            look: BoardAppearance::of(sitting.tree().root().root()),
            closed_ms: u64::from(new.look_s.unwrap_or(0)) * 1000,
            sitting,
            label,
            notice: None,
        })
    }

    /// Milliseconds of looking that are left before writing may begin.
    fn closed_for_ms(&self) -> u64 {
        self.closed_ms.saturating_sub(self.sitting.now_ms())
    }

    /// Milliseconds until the board is hidden; `None` where it stays.
    fn seen_for_ms(&self) -> Option<u64> {
        let hides = self.sitting.attempt().opened().sight == BoardVisibility::None;
        let seen = if self.closed_ms == 0 {
            u64::from(SIGHT_S) * 1000
        } else {
            self.closed_ms
        };
        hides.then(|| seen.saturating_sub(self.sitting.now_ms()))
    }

    /// The board as it may be seen now.
    fn shown(&self) -> BoardAppearance {
        let over = self.seen_for_ms() == Some(0);
        BoardAppearance {
            hidden: self.look.hidden || over,
            ..self.look
        }
    }

    fn act(mut self: Box<Self>, action: Action, letters: Letters) -> Transition {
        match action {
            Action::Common(CommonAction::Open) if self.closed_for_ms() > 0 => {
                let words = tr!("Look first: writing opens when the time for looking is over.");
                self.notice = Some(Notice::Quiet(words.to_owned()));
            }
            Action::Common(CommonAction::Open) => return self.start(letters),
            Action::Writing(WritingAction::Sight) => self.next_sight(),
            Action::List(ListAction::More) => self.give_minutes(true),
            Action::List(ListAction::Less) => self.give_minutes(false),
            Action::Common(CommonAction::Letters) => self.look.letters ^= true,
            Action::Common(CommonAction::Flip) => self.look.flip(),
            Action::Common(CommonAction::Coordinates) => self.look.coordinates ^= true,
            Action::Writing(WritingAction::Hide) => self.look.hidden ^= true,
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Back) => return Transition::Pop,
            _ => {}
        }
        Transition::Stay(self)
    }

    fn next_sight(&mut self) {
        let next = match self.sitting.attempt().opened().sight {
            BoardVisibility::Root => BoardVisibility::Follow,
            BoardVisibility::Follow => BoardVisibility::None,
            BoardVisibility::None => BoardVisibility::Root,
        };
        let done = self.sitting.see(next);
        self.notice = done.err().map(|e| Notice::error(&e));
    }

    /// Five minutes more or less; below five there is no limit.
    fn give_minutes(&mut self, more: bool) {
        const STEP: u64 = 5 * 60_000;
        const MOST: u64 = 120 * 60_000;
        let now = self.sitting.attempt().opened().budget_ms.unwrap_or(0);
        let next = if more {
            (now + STEP).min(MOST)
        } else {
            now.saturating_sub(STEP)
        };
        let done = self.sitting.give_time((next > 0).then_some(next));
        self.notice = done.err().map(|e| Notice::error(&e));
    }

    fn start(mut self: Box<Self>, letters: Letters) -> Transition {
        match self.sitting.start() {
            Ok(()) => {
                let open = OpenAttempt::new(self.sitting, self.label, self.look, letters);
                Transition::Replace(Route::Writing(Box::new(open)))
            }
            Err(error) => {
                self.notice = Some(Notice::error(&error));
                Transition::Stay(self)
            }
        }
    }
}

impl Screen for PreviewScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if !matches!(input, ScreenInput::Click(_)) {
            self.notice = None;
        }
        match input {
            ScreenInput::Action(action) => self.act(action, ctx.display.letters),
            _ => Transition::Stay(self),
        }
    }

    fn time_text(&self, _ctx: &Context) -> String {
        let seconds = |ms: u64| ms.div_ceil(1000);
        let seen = self.seen_for_ms().map(seconds);
        format!("{} {seen:?}", seconds(self.closed_for_ms()))
    }

    fn tour_step(&self) -> Option<TourStep> {
        Some(TourStep::Preview)
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let root = self.sitting.tree().root();
        let turn = position_text::side(root.player());
        let title = tr!("{}: {turn} to move", self.label);
        let budget = clock::clock(self.sitting.left_ms(), 0);
        chrome::title(canvas, &title, &budget);
        let scale = BoardScale::fitting(canvas);
        let view = BoardView {
            board: root.root().board(),
            look: self.shown(),
            glyphs: ctx.display.glyphs,
            marked: &[],
        };
        view.draw(canvas, 0, 2, scale);
        self.facts(canvas, scale.width() + 4);
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        // The clock of quick calculation cannot be chosen.
        let without: &[Action] = match self.sitting.attempt().opened().quick {
            Some(_) => &[Action::List(ListAction::More)],
            None => &[],
        };
        chrome::bar_without(canvas, KeyContext::Preview, without);
    }
}

impl PreviewScreen {
    /// What he will see of the board while he writes.
    fn sight(&self) -> String {
        match (self.sitting.attempt().opened().sight, self.seen_for_ms()) {
            (BoardVisibility::Root, _) => {
                tr!("The board stays as it is while you write.").to_owned()
            }
            (BoardVisibility::Follow, _) => tr!("The board follows what you write.").to_owned(),
            (BoardVisibility::None, Some(left @ 1..)) => {
                let left = text::clock(left.div_ceil(1000) * 1000);
                tr!("The board is hidden in {left}, or when you start.")
            }
            (BoardVisibility::None, _) => tr!("You write without the board.").to_owned(),
        }
    }

    fn facts(&self, canvas: &mut Canvas, x: usize) {
        let root = self.sitting.tree().root();
        let width = canvas.width() - x;
        let mut y = 2;
        for fact in position_text::facts(root) {
            y = canvas.put_wrapped((x, y, width, 3), &fact, TextStyle::PLAIN);
        }
        if !self.task.is_empty() {
            y = canvas.put_wrapped((x, y, width, 3), &text::safe(&self.task), TextStyle::ACCENT);
        }
        y += 1;
        for color in [Color::White, Color::Black] {
            let men = position_text::material(root.root(), color);
            y = canvas.put_wrapped((x, y, width, 3), &men, TextStyle::PLAIN);
        }
        y += 1;
        let opened = self.sitting.attempt().opened();
        let time = match (opened.budget_ms, opened.quick) {
            (Some(ms), Some(_)) => labels::quick_terms(ms),
            (Some(ms), None) => minutes(ms / 60_000),
            (None, _) => tr!("There is no time limit (+ -).").to_owned(),
        };
        y = canvas.put_wrapped((x, y, width, 4), &time, TextStyle::PLAIN);
        y = canvas.put_wrapped((x, y, width, 2), &self.sight(), TextStyle::PLAIN) + 1;
        if self.closed_for_ms() > 0 {
            let left = text::clock(self.closed_for_ms().div_ceil(1000) * 1000);
            let words = tr!("Only look for now: writing opens in {left}.");
            y = canvas.put_wrapped((x, y, width, 2), &words, TextStyle::ACCENT) + 1;
        }
        let job = tr!(
            "Look first. Then write down every candidate move you consider, the lines you see \
                   and how you judge where they end. Nothing is said about it until you lock it."
        );
        canvas.put_wrapped((x, y, width, 6), job, TextStyle::QUIET);
    }
}

fn minutes(minutes: u64) -> String {
    tr!(minutes; "You have one minute from when you start (+ -)." | "You have {} minutes from when you start (+ -).", minutes)
}
