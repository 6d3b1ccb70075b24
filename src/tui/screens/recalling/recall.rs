//! A game gone through as it was: moments marked, felt, feared; one sentence; and the lock.

use crate::app::AppError;
use crate::attempt::Origin;
use crate::games::OwnGame;
use crate::games::thoughts::{Thought, Thoughts};
use crate::text::{self, capital};
use crate::tree::Verdict;
use crate::tui::forms::own_game;
use crate::tui::input::action::{Action, CommonAction, OwnGameAction, WritingAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::labels;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::{OwnPage, Route};
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::nav::sessions::OpenAttempt;
use crate::tui::widgets::board::BoardAppearance;
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::page::{PageScroll, TextPage};

const CONTEXTS: &[KeyContext] = &[KeyContext::Recall];
const LINE_CONTEXTS: &[KeyContext] = &[KeyContext::RecallLine, KeyContext::Line];
const LOCK_CONTEXTS: &[KeyContext] = &[KeyContext::RecallLock];

/// Half-moves of the game that stand beside the board after the cursor.
const AFTER: usize = 4;

/// The screen.
pub struct RecallScreen {
    game: OwnGame,
    thoughts: Thoughts,
    /// The half-move that comes next on the board.
    ply: usize,
    look: BoardAppearance,
    doing: Doing,
    notice: Option<Notice>,
}

enum Doing {
    Going,
    /// Something is typed.
    Typing(Asked, LineEditor),
    /// Whether all of it is to be final.
    Locking,
}

/// What is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Asked {
    Felt,
    Feared,
    Sentence,
}

impl RecallScreen {
    /// # Errors
    /// There is no such game, or the store cannot be read.
    pub fn open(ctx: &Context, id: &str) -> Result<Self, AppError> {
        let game = ctx.app.games().own_game(id)?;
        let thoughts = ctx.app.games().gather_thoughts(&game)?;
        let mut look = BoardAppearance::of(&game.game.start);
        look.below = game.side;
        let ply = (0..game.plies()).find(|p| game.is_his(*p)).unwrap_or(0);
        Ok(Self {
            ply,
            game,
            thoughts,
            look,
            doing: Doing::Going,
            notice: None,
        })
    }

    fn act(mut self: Box<Self>, action: Action, ctx: &Context) -> Transition {
        match action {
            Action::Common(CommonAction::Help) => {
                let help = Route::Help(self.key_contexts());
                return Transition::Push(self, help);
            }
            Action::Common(CommonAction::Back) => return Transition::Pop,
            Action::Common(CommonAction::Flip) => self.look.flip(),
            Action::OwnGame(OwnGameAction::Backward) => self.ply = self.ply.saturating_sub(1),
            Action::OwnGame(OwnGameAction::Forward) => self.go(self.ply + 1),
            Action::Common(CommonAction::Up) => self.ply = self.ply.saturating_sub(2),
            Action::Common(CommonAction::Down) => self.go(self.ply + 2),
            Action::Common(CommonAction::PageUp) => self.ply = self.ply.saturating_sub(20),
            Action::Common(CommonAction::PageDown) => self.go(self.ply + 20),
            Action::OwnGame(OwnGameAction::Mark) => self.mark(ctx),
            Action::OwnGame(OwnGameAction::Saw) => return self.write(ctx),
            Action::OwnGame(OwnGameAction::Felt) => self.ask(Asked::Felt),
            Action::OwnGame(OwnGameAction::Feared) => self.ask(Asked::Feared),
            Action::OwnGame(OwnGameAction::Sentence) => self.ask(Asked::Sentence),
            Action::OwnGame(OwnGameAction::Lock) => self.doing = Doing::Locking,
            _ => {}
        }
        Transition::Stay(self)
    }

    fn go(&mut self, ply: usize) {
        self.ply = ply.min(self.game.plies());
    }

    /// The half-move under the cursor, where it is his; else it is said what to do.
    fn his(&mut self) -> Option<usize> {
        let his = self.ply < self.game.plies() && self.game.is_his(self.ply);
        if !his {
            let words =
                tr!("A moment is a position in which it was your move: one half-move back or on.");
            self.notice = Some(Notice::Quiet(words.to_owned()));
        }
        his.then_some(self.ply)
    }

    fn say(&mut self, ctx: &Context, thought: Thought) -> bool {
        match ctx.app.games().think(&self.game, thought) {
            Ok(thoughts) => {
                self.thoughts = thoughts;
                true
            }
            Err(error) => {
                self.notice = Some(Notice::error(&error));
                false
            }
        }
    }

    fn mark(&mut self, ctx: &Context) {
        let Some(ply) = self.his() else {
            return;
        };
        let said = match self.thoughts.at(ply) {
            None => Thought::Mark(ply),
            Some(_) => Thought::Unmark(ply),
        };
        self.say(ctx, said);
    }

    fn ask(&mut self, asked: Asked) {
        let mut editor = LineEditor::default();
        if asked == Asked::Sentence {
            editor.set(&self.thoughts.sentence);
        } else {
            let Some(ply) = self.his() else {
                return;
            };
            let mark = self.thoughts.at(ply);
            match asked {
                Asked::Feared => editor.set(mark.map_or("", |m| &m.feared)),
                _ => {
                    let verdict = mark.and_then(|m| m.verdict);
                    editor.set(&verdict.map(|v| v.to_string()).unwrap_or_default());
                }
            }
        }
        self.doing = Doing::Typing(asked, editor);
    }

    /// What he saw there, on the screens of every sitting; one that was begun goes on.
    fn write(mut self: Box<Self>, ctx: &Context) -> Transition {
        let Some(ply) = self.his() else {
            return Transition::Stay(self);
        };
        if self.thoughts.at(ply).is_some_and(|m| m.attempt.is_some()) {
            let words = tr!("What you saw there is locked already.");
            self.notice = Some(Notice::Quiet(words.to_owned()));
            return Transition::Stay(self);
        }
        match self.sitting(ctx, ply) {
            Ok(route) => Transition::Push(self, route),
            Err(error) => {
                self.notice = Some(Notice::error(&error));
                Transition::Stay(self)
            }
        }
    }

    fn sitting(&mut self, ctx: &Context, ply: usize) -> Result<Route, AppError> {
        // Marked first, so that the game waits for it.
        if self.thoughts.at(ply).is_none() {
            self.thoughts = ctx.app.games().think(&self.game, Thought::Mark(ply))?;
        }
        let begun = ctx.app.games().begun_at(&self.game, ply)?;
        let Some(id) = begun else {
            let subject = ctx.app.games().memory_of(&self.game, ply);
            return Ok(Route::Preview(Box::new(subject)));
        };
        let sitting = ctx.app.attempts().resume(&id)?;
        let origin: &Origin = &sitting.attempt().opened().origin;
        let label = labels::origin(&ctx.app, origin);
        let look = BoardAppearance::of(sitting.tree().root().root());
        let open = OpenAttempt::new(sitting, label, look, ctx.display.letters);
        Ok(Route::Writing(Box::new(open)))
    }

    fn typed(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        let Doing::Typing(asked, editor) = &mut self.doing else {
            return Transition::Stay(self);
        };
        match input {
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(LINE_CONTEXTS));
            }
            ScreenInput::Action(Action::Common(CommonAction::Back)) => self.doing = Doing::Going,
            ScreenInput::Action(Action::Common(CommonAction::Open)) => {
                let (asked, words) = (*asked, editor.text().to_owned());
                match self.thought(asked, &words) {
                    Ok(thought) => {
                        if self.say(ctx, thought) {
                            self.doing = Doing::Going;
                        }
                    }
                    Err(why) => self.notice = Some(Notice::Alert(why)),
                }
            }
            ScreenInput::Action(Action::Edit(edit)) => editor.edit(edit),
            ScreenInput::Char(c) => editor.insert(c),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn thought(&self, asked: Asked, words: &str) -> Result<Thought, String> {
        Ok(match asked {
            Asked::Sentence => Thought::Sentence(words.to_owned()),
            Asked::Feared => Thought::Feared(self.ply, words.to_owned()),
            Asked::Felt if words.trim().is_empty() => Thought::Verdict(self.ply, None),
            Asked::Felt => {
                let verdict = Verdict::parse(words).map_err(|e| e.to_string())?;
                Thought::Verdict(self.ply, Some(verdict))
            }
        })
    }

    fn lock(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        match input {
            ScreenInput::Action(Action::Writing(WritingAction::Yes)) => {
                match ctx.app.games().lock_thoughts(&self.game) {
                    Ok(_) => {
                        let page = OwnPage::Thoughts(self.game.id.clone());
                        return Transition::Replace(Route::OwnGamePage(page));
                    }
                    Err(error) => {
                        self.notice = Some(Notice::error(&error));
                        self.doing = Doing::Going;
                    }
                }
            }
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(LOCK_CONTEXTS));
            }
            ScreenInput::Action(Action::Common(CommonAction::Back)) => self.doing = Doing::Going,
            _ => {}
        }
        Transition::Stay(self)
    }
}

impl Screen for RecallScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        match self.doing {
            Doing::Going => CONTEXTS,
            Doing::Typing(..) => LINE_CONTEXTS,
            Doing::Locking => LOCK_CONTEXTS,
        }
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if matches!(input, ScreenInput::Click(_)) {
            return Transition::Stay(self);
        }
        self.notice = None;
        match (&self.doing, input) {
            (Doing::Typing(..), input) => self.typed(input, ctx),
            (Doing::Locking, input) => self.lock(input, ctx),
            (Doing::Going, ScreenInput::Action(action)) => self.act(action, ctx),
            _ => Transition::Stay(self),
        }
    }

    /// A tree that was locked meanwhile is taken in.
    fn uncovered(&mut self, ctx: &Context) -> Option<Route> {
        match ctx.app.games().gather_thoughts(&self.game) {
            Ok(thoughts) => self.thoughts = thoughts,
            Err(error) => self.notice = Some(Notice::error(&error)),
        }
        None
    }

    fn notify(&mut self, notice: Notice) {
        self.notice = Some(notice);
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let marked = match self.thoughts.marks.len() {
            0 => String::new(),
            n => tr!("{n} marked"),
        };
        chrome::title(canvas, &text::dates_in(&self.game.heading()), &marked);
        let glyphs = ctx.display.glyphs;
        let x = own_game::draw_board(canvas, &self.game, self.ply, self.look, glyphs);
        let mut page = TextPage::new(canvas.width() - x);
        self.tell(&mut page);
        let rows = canvas.height().saturating_sub(6);
        page.draw(canvas, (x, 2, rows), &PageScroll::default());
        self.draw_bottom(canvas);
    }
}

impl RecallScreen {
    fn tell(&self, page: &mut TextPage) {
        // A marked one with a star.
        let star = |ply| self.thoughts.at(ply).map_or("", |_| "*");
        let around = own_game::moves_around(&self.game, self.ply, AFTER, star);
        page.say(&around, TextStyle::PLAIN);
        page.gap();
        let his = self.ply < self.game.plies() && self.game.is_his(self.ply);
        match self.thoughts.at(self.ply) {
            Some(mark) => {
                let head = tr!("Move {}: a moment of yours", self.game.number(self.ply));
                page.say(&head, TextStyle::ACCENT.bold());
                let felt = mark.verdict.map(|v| format!("{}.", capital(&v.words())));
                page.say(
                    &felt.unwrap_or_else(|| tr!("v  how you felt about it").to_owned()),
                    TextStyle::PLAIN,
                );
                let feared = match mark.feared.as_str() {
                    "" => tr!("a  what you were afraid of").to_owned(),
                    words => tr!("Afraid of: {words}"),
                };
                page.say(&feared, TextStyle::PLAIN);
                let saw = match mark.attempt {
                    Some(_) => tr!("What you saw is written and locked."),
                    None => tr!("w  what you saw: candidates and lines"),
                };
                page.say(saw, TextStyle::PLAIN);
            }
            None if his => {
                let words = tr!("Was the game decided here? m marks it.");
                page.say(words, TextStyle::QUIET);
            }
            None if self.ply >= self.game.plies() => {
                page.say(tr!("The end of the game."), TextStyle::QUIET);
            }
            None => page.say(tr!("His move."), TextStyle::QUIET),
        }
        page.gap();
        if self.thoughts.sentence.is_empty() {
            page.say(tr!("s  one sentence on the game"), TextStyle::QUIET);
        } else {
            let words = tr!("On the game: {}", self.thoughts.sentence);
            page.say(&words, TextStyle::PLAIN);
        }
        let others: Vec<String> = self
            .thoughts
            .marks
            .iter()
            .map(|m| self.game.number(m.ply).to_string())
            .collect();
        if !others.is_empty() {
            let words = tr!("Marked: move {}.", text::list(&others));
            page.say(&words, TextStyle::QUIET);
        }
    }

    fn draw_bottom(&self, canvas: &mut Canvas) {
        let bottom = canvas.height() - 2;
        let notice_row = match &self.doing {
            Doing::Going => bottom,
            Doing::Typing(asked, editor) => {
                let number = self.game.number(self.ply);
                let prompt = match asked {
                    Asked::Felt => tr!("move {number}, you felt (= +/- 65% ...) >"),
                    Asked::Feared => tr!("move {number}, you were afraid of >"),
                    Asked::Sentence => tr!("on the game >").to_owned(),
                };
                chrome::entry_line(canvas, bottom, &prompt, editor);
                bottom - 1
            }
            Doing::Locking => {
                let words = tr!(
                    "Lock your thoughts on this game? Nothing can be changed then, and the engine speaks."
                );
                canvas.put_wrapped(
                    (0, bottom - 1, canvas.width(), 2),
                    words,
                    TextStyle::PLAIN.bold(),
                );
                bottom - 2
            }
        };
        if let Some(notice) = &self.notice {
            notice.draw(canvas, notice_row);
        }
        let context = match self.doing {
            Doing::Going => KeyContext::Recall,
            Doing::Typing(..) => KeyContext::RecallLine,
            Doing::Locking => KeyContext::RecallLock,
        };
        chrome::bar(canvas, context);
    }
}
