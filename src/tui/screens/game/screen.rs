//! A game that is played out: the board with the last move, the score sheet, one line to type in.
//!
//! Here moves are made, not written down: what is not possible is refused, as at a board. The engine
//! works beside the screen; nothing of its thinking is shown.

use std::collections::HashSet;
use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

use super::view::GameView;
use crate::app::{
    App, AppError, AttemptSession, EngineDecision, EntryToken, GameCommand, GameId, PlayoutSession,
};
use crate::notation::Letters;
use crate::tree::NodeId;
use crate::tui::input::action::{Action, CommonAction, EditAction, GameAction, WritingAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::input::line_parser;
use crate::tui::input::typed_command::{self, TypedCommand};
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::board::BoardAppearance;
use crate::tui::widgets::canvas::Canvas;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::tree_cursor as walk;

const CONTEXTS: &[KeyContext] = &[KeyContext::Game, KeyContext::Line];

/// A game in play.
pub struct GameScreen {
    playing: PlayoutSession,
    look: BoardAppearance,
    line: LineEditor,
    /// Whose piece letters are typed.
    letters: Letters,
    notice: Option<Notice>,
    /// The engine's turn, while it thinks.
    thinking: Option<Receiver<Result<EngineDecision, AppError>>>,
    /// Its last try failed; Enter on an empty line is the next.
    failed: bool,
    /// What he writes before his move, while he writes it, and once he has.
    sitting: Option<AttemptSession>,
    writing: bool,
    /// The move of what he writes that the next line goes below.
    cursor: NodeId,
}

impl GameScreen {
    /// Takes a game up where it stands.
    ///
    /// # Errors
    /// There is no such game, or it could not be kept.
    pub fn resume(ctx: &Context, id: &GameId) -> Result<Self, AppError> {
        Ok(Self::on(ctx, ctx.app.playouts().resume_playout(id)?))
    }

    /// The screen of a game.
    #[must_use]
    pub fn on(ctx: &Context, playing: PlayoutSession) -> Self {
        let mut look = BoardAppearance::of(playing.game().line().position());
        look.below = playing.game().side();
        let mut screen = Self {
            playing,
            look,
            line: LineEditor::default(),
            letters: ctx.display.letters,
            notice: None,
            thinking: None,
            failed: false,
            sitting: None,
            writing: false,
            cursor: NodeId::ROOT,
        };
        screen.let_it_think(&ctx.app);
        screen
    }

    fn let_it_think(&mut self, app: &App) {
        if self.thinking.is_some() || !self.playing.engine_has_to_act() {
            return;
        }
        let (send, receive) = mpsc::channel();
        let (app, game) = (app.clone(), self.playing.game().clone());
        thread::spawn(move || {
            // Nobody listens any more where the game was left meanwhile.
            let _ = send.send(app.playouts().engine_says(&game));
        });
        self.thinking = Some(receive);
        self.failed = false;
    }

    /// Lets time pass: the engine's move, the flag.
    fn listen(&mut self, app: &App) {
        let Some(receiver) = self.thinking.take() else {
            if let Err(error) = self.playing.tick() {
                self.notice = Some(Notice::error(&error));
            }
            return;
        };
        let says = match receiver.try_recv() {
            Err(TryRecvError::Empty) => {
                self.thinking = Some(receiver);
                return;
            }
            Ok(says) => says,
            Err(TryRecvError::Disconnected) => {
                Err(AppError::Line(tr!("the engine's turn was lost").to_owned()))
            }
        };
        match says.and_then(|says| self.playing.take(says)) {
            Ok(said) => self.notice = Some(Notice::Quiet(said)),
            Err(error) => {
                self.failed = true;
                let words = tr!("{error}. The game is kept; Enter tries again.");
                self.notice = Some(Notice::Alert(words));
            }
        }
        self.let_it_think_unless_failed(app);
    }

    fn let_it_think_unless_failed(&mut self, app: &App) {
        if !self.failed {
            self.let_it_think(app);
        }
    }

    fn act(mut self: Box<Self>, action: Action) -> Transition {
        match action {
            Action::Common(CommonAction::Back) if self.writing => self.writing = false,
            Action::Common(CommonAction::Back) => return self.leave(),
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Flip) => self.look.flip(),
            Action::Game(GameAction::WriteFirst) => self.begin_writing(),
            action if self.writing && self.line.is_empty() => self.walk(action),
            Action::Edit(edit) => self.line.edit(edit),
            _ => {}
        }
        Transition::Stay(self)
    }

    /// Through what he writes, and what is done to a move of it, as in a sitting.
    fn walk(&mut self, action: Action) {
        let Some(sitting) = &self.sitting else {
            return;
        };
        let (tree, none) = (sitting.tree(), HashSet::new());
        let parent = tree.parent(self.cursor).unwrap_or(NodeId::ROOT);
        self.cursor = match action {
            Action::Edit(EditAction::Left) => parent,
            Action::Edit(EditAction::Right) => {
                let first = tree.children(self.cursor).first();
                first.copied().unwrap_or(self.cursor)
            }
            Action::Common(CommonAction::Up) => walk::row_or_root(tree, self.cursor, &none),
            Action::Common(CommonAction::Down) => walk::row(tree, self.cursor, true, &none),
            Action::Writing(WritingAction::NextCandidate) => {
                walk::candidate(tree, self.cursor, true)
            }
            Action::Writing(WritingAction::PreviousCandidate) => {
                walk::candidate(tree, self.cursor, false)
            }
            Action::Writing(change) => {
                let changed = self.change(change);
                self.notice = changed.err().map(|e| Notice::error(&e));
                return;
            }
            _ => return,
        };
    }

    /// Changes what stands already. Nothing here asks whether a move is possible.
    fn change(&mut self, action: WritingAction) -> Result<(), AppError> {
        let Some(sitting) = &mut self.sitting else {
            return Ok(());
        };
        let node = sitting.tree().node(self.cursor);
        match (action, node) {
            (WritingAction::Undo, _) => {
                let path = sitting.tree().path(self.cursor);
                sitting.undo()?;
                let tree = sitting.tree();
                let left = path.iter().rev().find(|n| tree.node(**n).is_some());
                self.cursor = left.copied().unwrap_or(NodeId::ROOT);
            }
            (WritingAction::Redo, _) => sitting.redo()?,
            (WritingAction::Strike, Some(node)) => {
                let struck = node.struck;
                sitting.strike(self.cursor, !struck)?;
            }
            (WritingAction::Only, Some(node)) => {
                let only = node.only;
                sitting.only(self.cursor, !only)?;
            }
            (WritingAction::Note, Some(node)) => self.line.set(&format!("{{{}", node.comment)),
            (WritingAction::Correct, Some(node)) => {
                let text = self.letters.shown(&node.text);
                self.line.set(&format!("correct {text}"));
            }
            (
                WritingAction::Strike
                | WritingAction::Only
                | WritingAction::Note
                | WritingAction::Correct,
                None,
            ) => {
                return Err(AppError::Line(
                    tr!("put the cursor on a move first").to_owned(),
                ));
            }
            _ => {}
        }
        Ok(())
    }

    fn leave(mut self: Box<Self>) -> Transition {
        match self.playing.adjourn() {
            Ok(()) if self.playing.end().is_some() || !self.playing.is_kept() => Transition::Pop,
            Ok(()) => Transition::Back(Notice::Quiet(
                tr!("Adjourned: go on with it from the home screen or the history.").to_owned(),
            )),
            Err(error) => {
                self.notice = Some(Notice::error(&error));
                Transition::Stay(self)
            }
        }
    }

    fn begin_writing(&mut self) {
        if self.sitting.is_none() {
            match self.playing.write().and_then(|mut sitting| {
                sitting.start()?;
                Ok(sitting)
            }) {
                Ok(sitting) => self.sitting = Some(sitting),
                Err(error) => {
                    self.notice = Some(Notice::error(&error));
                    return;
                }
            }
        }
        self.writing = true;
    }

    fn enter(&mut self, app: &App) {
        let text = self.line.finish();
        let text = text.trim();
        let done = if self.writing {
            self.write(text)
        } else {
            self.obey(app, text)
        };
        if let Err(error) = done {
            self.notice = Some(Notice::error(&error));
        }
        self.let_it_think_unless_failed(app);
    }

    /// One line of the calculation, below the cursor; an empty one goes back to where the tree branched, and
    /// at the position ends the writing.
    fn write(&mut self, text: &str) -> Result<(), AppError> {
        if text.is_empty() {
            self.writing = self.cursor != NodeId::ROOT;
            if let Some(sitting) = &self.sitting {
                self.cursor = walk::branch(sitting.tree(), self.cursor);
            }
            return Ok(());
        }
        match typed_command::read(text) {
            Some(TypedCommand::Correct(text)) => return self.correct(text),
            Some(TypedCommand::Run(Action::Writing(change))) => return self.change(change),
            _ => {}
        }
        let read = line_parser::read_in(text, self.letters);
        let needs_a_move = self.cursor == NodeId::ROOT
            && !matches!(read.pieces.first(), Some(EntryToken::Move(_)) | None);
        if needs_a_move {
            self.line.set(text);
            let words = tr!("a verdict or a comment belongs to a move: put the cursor on one");
            return Err(AppError::Line(words.to_owned()));
        }
        if let Some(sitting) = &mut self.sitting {
            self.cursor = sitting.write(self.cursor, &read.pieces)?;
        }
        // As in a sitting: what could be read is kept, the rest stays in the line.
        if let Some((bad, span)) = &read.bad {
            self.line.set(text.get(span.start..).unwrap_or_default());
            return Err(AppError::Line(bad.to_string()));
        }
        if let Some(EntryToken::Verdict(verdict)) = read.pieces.last() {
            let words = format!("{verdict} {}.", verdict.words());
            self.notice = Some(Notice::Quiet(words));
        }
        Ok(())
    }

    /// The move under the cursor gets another text; what stands below it stays.
    fn correct(&mut self, text: &str) -> Result<(), AppError> {
        match &mut self.sitting {
            Some(sitting) if self.cursor != NodeId::ROOT => {
                sitting.retype(self.cursor, &self.letters.typed_word(text))
            }
            _ => Err(AppError::Line(
                tr!("put the cursor on a move first").to_owned(),
            )),
        }
    }

    fn obey(&mut self, app: &App, text: &str) -> Result<(), AppError> {
        match GameCommand::read(text) {
            GameCommand::Nothing => self.let_it_think(app),
            GameCommand::Plan(words) => {
                self.playing.plan(words)?;
                self.notice = Some(Notice::Quiet(tr!("Your plan is kept.").to_owned()));
            }
            GameCommand::Write => self.begin_writing(),
            GameCommand::Draw => self.playing.offer_draw()?,
            GameCommand::Claim => self.playing.claim()?,
            GameCommand::Resign => self.playing.resign()?,
            GameCommand::Adjourn => {
                self.notice = Some(Notice::Quiet(tr!("Esc adjourns the game.").to_owned()));
            }
            GameCommand::Move(_) if self.playing.game().must_write() && self.sitting.is_none() => {
                let words = tr!("You wanted to write before this move: F2.");
                self.notice = Some(Notice::Quiet(words.to_owned()));
            }
            GameCommand::Move(text) => self.play(text)?,
        }
        Ok(())
    }

    /// The move; what was written before it is locked with it as the choice.
    fn play(&mut self, text: &str) -> Result<(), AppError> {
        let text: &str = &self.letters.typed_word(text);
        match &mut self.sitting {
            Some(sitting) => self.playing.play_written(sitting, text)?,
            None => self.playing.play(text)?,
        }
        self.sitting = None;
        self.cursor = NodeId::ROOT;
        Ok(())
    }
}

impl Screen for GameScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if !matches!(input, ScreenInput::Click(_)) {
            self.notice = None;
        }
        match input {
            ScreenInput::Action(action) => return self.act(action),
            ScreenInput::Enter if self.playing.end().is_some() => {
                return Transition::Replace(Route::GameAccount(Box::new(self.playing)));
            }
            ScreenInput::Enter => self.enter(&ctx.app),
            ScreenInput::Char(c) => self.line.insert(c),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn tick(&mut self, ctx: &Context) -> Option<Route> {
        self.listen(&ctx.app);
        None
    }

    fn time_text(&self, _ctx: &Context) -> String {
        let left = self.playing.left_ms().map(|ms| ms / 1000);
        let made = self.playing.game().moves().len();
        format!("{left:?} {made} {}", self.playing.end().is_some())
    }

    /// The clock stands.
    fn close(&mut self) -> Result<(), AppError> {
        self.playing.adjourn()
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let view = GameView {
            playing: &self.playing,
            look: self.look,
            line: &self.line,
            ascii: ctx.display.glyphs.ascii,
            notice: self.notice.as_ref(),
            thinking: self.thinking.is_some(),
            written: self.sitting.as_ref().filter(|_| self.writing),
            writing: self.writing,
            cursor: self.cursor,
        };
        view.draw(canvas, ctx);
    }
}
