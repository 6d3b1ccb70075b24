//! How a position is to be played out: side, level and clock. Nothing is kept before the game begins.

use shakmaty::Position;

use crate::app::{AppError, PlayoutTerms, Subject};
use crate::board::Line;
use crate::playout::{ClockSet, Goal, Level, Side};
use crate::tui::input::action::{Action, CommonAction, GameAction, ListAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::board::{BoardAppearance, BoardScale, BoardView};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome::{self, Notice};
use crate::tui::widgets::page::{PageScroll, TextPage};
use crate::tui::widgets::position_text;

const CONTEXTS: &[KeyContext] = &[KeyContext::Terms];

/// Minutes for the game and seconds for each move (common practice, no source).
const CLOCKS: [(u64, u64); 5] = [(3, 2), (5, 3), (10, 5), (15, 10), (30, 20)];

/// What is asked before a game.
pub struct TermsScreen {
    subject: Subject,
    root: Line,
    side: Side,
    level: u8,
    /// Which of the clocks; `None` for no clock.
    clock: Option<usize>,
    look: BoardAppearance,
    notice: Option<Notice>,
}

impl TermsScreen {
    /// # Errors
    /// There is no such drill.
    pub fn open(ctx: &Context, subject: Subject) -> Result<Self, AppError> {
        let root = match &subject {
            Subject::Drill(id) | Subject::Quick { drill: id, .. } => {
                ctx.app.drills().find(id)?.1.root.clone()
            }
            Subject::Position(line)
            | Subject::Memory { line, .. }
            | Subject::Homework { line, .. } => line.clone(),
        };
        let mut look = BoardAppearance::of(root.position());
        look.below = root.position().turn();
        Ok(Self {
            side: root.position().turn().into(),
            level: Level::FULL.into(),
            clock: None,
            subject,
            root,
            look,
            notice: None,
        })
    }

    fn act(mut self: Box<Self>, action: Action, ctx: &Context) -> Transition {
        match action {
            Action::Common(CommonAction::Back) => return Transition::Pop,
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Open) => return self.begin(ctx),
            Action::Common(CommonAction::Flip) => self.look.flip(),
            Action::Game(GameAction::Side) => self.turn_side(),
            Action::Game(GameAction::Clock) => {
                let next = self.clock.map_or(0, |c| c + 1);
                self.clock = (next < CLOCKS.len()).then_some(next);
            }
            Action::List(ListAction::More) => self.level = (self.level + 1).min(10),
            Action::List(ListAction::Less) => self.level = self.level.saturating_sub(1).max(1),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn turn_side(&mut self) {
        self.side = match self.side {
            Side::White => Side::Black,
            Side::Black => Side::White,
        };
        self.look.below = self.side.into();
    }

    fn begin(mut self: Box<Self>, ctx: &Context) -> Transition {
        match self.open_game(ctx) {
            Ok(playing) => Transition::Replace(Route::Game(Box::new(playing))),
            Err(error) => {
                self.notice = Some(Notice::error(&error));
                Transition::Stay(self)
            }
        }
    }

    fn open_game(&self, ctx: &Context) -> Result<crate::app::PlayoutSession, AppError> {
        let level = Level::try_from(self.level).map_err(|e| AppError::Line(e.to_string()))?;
        let clock = self.clock.and_then(|c| CLOCKS.get(c));
        let terms = PlayoutTerms {
            side: Some(self.side),
            goal: Goal::Win,
            level,
            clock: clock.map(|(minutes, seconds)| ClockSet {
                base_ms: minutes * 60_000,
                increment_ms: seconds * 1_000,
            }),
            write_every: None,
        };
        ctx.app.playouts().open_playout(&self.subject, terms)
    }

    fn page(&self, width: usize) -> TextPage {
        let mut page = TextPage::new(width);
        let turn = position_text::side(self.root.position().turn());
        page.say(&tr!("{turn} to move."), TextStyle::PLAIN);
        page.gap();
        let side = position_text::side(self.side.into());
        page.hanging("s  ", &tr!("Your side: {side}"), TextStyle::PLAIN.bold());
        let level = match self.level {
            1 => tr!("1, a beginner").to_owned(),
            10 => tr!("10, full strength").to_owned(),
            n => tr!("{n} of 10"),
        };
        page.hanging("+- ", &tr!("His level: {level}"), TextStyle::PLAIN.bold());
        let clock = match self.clock.and_then(|c| CLOCKS.get(c)) {
            None => tr!("none").to_owned(),
            Some((minutes, seconds)) => {
                tr!("{minutes} minutes, {seconds} seconds added for each move")
            }
        };
        page.hanging("c  ", &tr!("Clock: {clock}"), TextStyle::PLAIN.bold());
        page.gap();
        let words = tr!(
            "Enter begins the game; you are to win it. Until a move is made, or a plan or a \
                     line written, nothing of it is kept. Holding a worse position, and writing before every \
                     so many moves: foreply playout."
        );
        page.say(words, TextStyle::QUIET);
        page
    }
}

impl Screen for TermsScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if !matches!(input, ScreenInput::Click(_)) {
            self.notice = None;
        }
        match input {
            ScreenInput::Action(action) => self.act(action, ctx),
            _ => Transition::Stay(self),
        }
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        chrome::title(canvas, tr!("Play it out"), "");
        let scale = BoardScale::fitting(canvas);
        let view = BoardView {
            board: self.root.position().board(),
            look: self.look,
            glyphs: ctx.display.glyphs,
            marked: &[],
        };
        view.draw(canvas, 0, 2, scale);
        let x = scale.width() + 3;
        let page = self.page(canvas.width() - x);
        let rows = canvas.height().saturating_sub(4);
        page.draw(canvas, (x, 2, rows), &PageScroll::default());
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 2);
        }
        chrome::bar(canvas, KeyContext::Terms);
    }
}
