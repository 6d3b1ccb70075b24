//! A game that is played out: the board with the last move, the score sheet, one line to type in.
//!
//! Here moves are made, not written down: what is not possible is refused, as at a board. The engine
//! works beside the screen; nothing of its thinking is shown.

use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

use shakmaty::Square;

use crate::app::{App, AppError, EngineSays, GameId, Playing, Sitting, Subject, Terms, Wish};
use crate::playout::{Goal, Level};
use crate::text;
use crate::tree::NodeId;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::input::line_parser;
use crate::tui::labels;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::game::account::After;
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::widgets::board::{BoardLook, BoardView, Scale};
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;
use crate::tui::widgets::line_editor::EntryLine;

const PLACES: &[Place] = &[Place::Playout, Place::Line];

/// A game in play.
pub struct Playout {
    app: App,
    playing: Playing,
    look: BoardLook,
    line: EntryLine,
    answer: Option<Answer>,
    /// The engine's turn, while it thinks.
    thinking: Option<Receiver<Result<EngineSays, AppError>>>,
    /// Its last try failed; Enter on an empty line is the next.
    failed: bool,
    /// What he writes before his move, while he writes it, and once he has.
    sitting: Option<Sitting>,
    writing: bool,
}

impl Playout {
    /// Takes a game up where it stands.
    ///
    /// # Errors
    /// There is no such game, or it could not be kept.
    pub fn open(desk: &Desk, id: &GameId) -> Result<Screen, AppError> {
        Ok(Self::on(
            desk.app.clone(),
            desk.app.playouts().resume_playout(id)?,
        ))
    }

    /// A new game from a position, to be won against the engine at full strength; other terms are for the
    /// command line.
    ///
    /// # Errors
    /// There is no such drill, or the game could not be kept.
    pub fn begin(desk: &Desk, subject: &Subject) -> Result<Screen, AppError> {
        let terms = Terms {
            side: None,
            goal: Goal::Win,
            level: Level::FULL,
            clock: None,
            write_every: None,
        };
        let playing = desk.app.playouts().open_playout(subject, terms)?;
        Ok(Self::on(desk.app.clone(), playing))
    }

    /// The screen of a game.
    #[must_use]
    pub fn on(app: App, playing: Playing) -> Screen {
        let mut look = BoardLook::of(playing.game().line().position());
        look.below = playing.game().side();
        let mut screen = Self {
            app,
            playing,
            look,
            line: EntryLine::default(),
            answer: None,
            thinking: None,
            failed: false,
            sitting: None,
            writing: false,
        };
        screen.let_it_think();
        Screen::Playout(Box::new(screen))
    }

    fn let_it_think(&mut self) {
        if self.thinking.is_some() || !self.playing.engine_has_to_act() {
            return;
        }
        let (send, receive) = mpsc::channel();
        let (app, game) = (self.app.clone(), self.playing.game().clone());
        thread::spawn(move || {
            // Nobody listens any more where the game was left meanwhile.
            let _ = send.send(app.playouts().engine_says(&game));
        });
        self.thinking = Some(receive);
        self.failed = false;
    }

    /// Lets time pass: the engine's move, the flag.
    pub fn tick(&mut self) {
        let Some(receiver) = self.thinking.take() else {
            if let Err(error) = self.playing.tick() {
                self.answer = Some(Answer::error(&error));
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
                Err(AppError::Line("the engine's turn was lost".to_owned()))
            }
        };
        match says.and_then(|says| self.playing.take(says)) {
            Ok(said) => self.answer = Some(Answer::Quiet(said)),
            Err(error) => {
                self.failed = true;
                let words = format!("{error}. The game is kept; Enter tries again.");
                self.answer = Some(Answer::Alert(words));
            }
        }
        self.let_it_think_unless_failed();
    }

    fn let_it_think_unless_failed(&mut self) {
        if !self.failed {
            self.let_it_think();
        }
    }

    pub fn press(mut self, key: Key) -> Next {
        self.answer = None;
        match bindings::find(PLACES, key) {
            Some(Do::Back) if self.writing => self.writing = false,
            Some(Do::Back) => return self.leave(),
            Some(Do::Help) => {
                return Next::Over(Screen::Playout(Box::new(self)), HelpScreen::of(PLACES));
            }
            Some(Do::Flip) => self.look.flip(),
            Some(Do::WriteFirst) => self.begin_writing(),
            Some(Do::Edit(edit)) => self.line.edit(edit),
            _ => match key {
                Key::Enter if self.playing.end().is_some() => return self.after(),
                Key::Enter => self.enter(),
                Key::Char(c) => self.line.insert(c),
                _ => {}
            },
        }
        Next::Stay(Screen::Playout(Box::new(self)))
    }

    fn leave(mut self) -> Next {
        match self.close() {
            Ok(()) if self.playing.end().is_some() => Next::Home(None),
            Ok(()) => Next::Home(Some(format!(
                "Adjourned. foreply playout --resume {} goes on.",
                self.playing.id()
            ))),
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::Playout(Box::new(self)))
            }
        }
    }

    fn after(self) -> Next {
        Next::Stay(After::begin(self.app, self.playing))
    }

    /// The screen goes: the clock stands.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn close(&mut self) -> Result<(), AppError> {
        self.playing.adjourn()
    }

    fn begin_writing(&mut self) {
        if self.sitting.is_none() {
            match self.playing.write().and_then(|mut sitting| {
                sitting.start()?;
                Ok(sitting)
            }) {
                Ok(sitting) => self.sitting = Some(sitting),
                Err(error) => {
                    self.answer = Some(Answer::error(&error));
                    return;
                }
            }
        }
        self.writing = true;
    }

    fn enter(&mut self) {
        let text = self.line.finish();
        let text = text.trim();
        let done = if self.writing {
            self.write(text)
        } else {
            self.order(text)
        };
        if let Err(error) = done {
            self.answer = Some(Answer::error(&error));
        }
        self.let_it_think_unless_failed();
    }

    /// One line of the calculation; an empty one ends it.
    fn write(&mut self, text: &str) -> Result<(), AppError> {
        if text.is_empty() {
            self.writing = false;
            return Ok(());
        }
        let read = line_parser::read(text);
        if let Some((bad, _)) = &read.bad {
            return Err(AppError::Line(bad.to_string()));
        }
        if let Some(sitting) = &mut self.sitting {
            sitting.write(NodeId::ROOT, &read.pieces)?;
        }
        Ok(())
    }

    fn order(&mut self, text: &str) -> Result<(), AppError> {
        match Wish::read(text) {
            Wish::Nothing => self.let_it_think(),
            Wish::Plan(words) => {
                self.playing.plan(words)?;
                self.answer = Some(Answer::Quiet("Your plan is kept.".to_owned()));
            }
            Wish::Write => self.begin_writing(),
            Wish::Draw => self.playing.offer_draw()?,
            Wish::Claim => self.playing.claim()?,
            Wish::Resign => self.playing.resign()?,
            Wish::Adjourn => {
                self.answer = Some(Answer::Quiet("Esc adjourns the game.".to_owned()));
            }
            Wish::Move(_) if self.playing.game().must_write() && self.sitting.is_none() => {
                let words = "You wanted to write before this move: F2.";
                self.answer = Some(Answer::Quiet(words.to_owned()));
            }
            Wish::Move(text) => self.play(text)?,
        }
        Ok(())
    }

    /// The move; what was written before it is locked with it as the choice.
    fn play(&mut self, text: &str) -> Result<(), AppError> {
        match &mut self.sitting {
            Some(sitting) => self.playing.play_written(sitting, text)?,
            None => self.playing.play(text)?,
        }
        self.sitting = None;
        Ok(())
    }

    /// What changes without a key.
    #[must_use]
    pub fn moving(&self) -> String {
        let left = self.playing.left_ms().map(|ms| ms / 1000);
        let made = self.playing.game().moves().len();
        format!("{left:?} {made} {}", self.playing.end().is_some())
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        let game = self.playing.game();
        let level = u8::from(game.opened().level);
        let side = labels::side(game.side());
        let goal = match game.opened().goal {
            Goal::Win => "to win".to_owned(),
            Goal::Hold { moves } => format!("to hold for {moves} moves"),
        };
        let clock = self.playing.left_ms().map_or(String::new(), text::clock);
        chrome::title(
            page,
            &format!("You are {side}, {goal}; level {level}"),
            &clock,
        );
        let scale = Scale::fitting(page);
        let position = game.line().position();
        let last = game.moves().last();
        let marked: Vec<Square> = last.map(|m| m.mv.to()).into_iter().collect();
        let view = BoardView {
            board: shakmaty::Position::board(position),
            look: self.look,
            glyphs: desk.glyphs,
            marked: &marked,
        };
        view.draw(page, 0, 2, scale);
        let x = scale.width() + 3;
        self.draw_side(page, x);
        let bottom = page.height();
        if let Some(answer) = &self.answer {
            answer.draw(page, bottom - 3);
        }
        chrome::entry_line(page, bottom - 2, &self.prompt(), &self.line);
        chrome::bar(page, Place::Playout);
    }

    /// The score sheet, or what he writes.
    fn draw_side(&self, page: &mut Page, x: usize) {
        let (width, rows) = (page.width() - x, page.height().saturating_sub(7));
        if let (true, Some(sitting)) = (self.writing, &self.sitting) {
            let tree = sitting.tree();
            page.put(x, 2, "Before your move", Ink::ACCENT.bold());
            let lines: Vec<String> = tree
                .leaves()
                .into_iter()
                .map(|leaf| crate::tui::widgets::variation_tree::as_typed(tree, leaf).join(" "))
                .collect();
            let first = lines.len().saturating_sub(rows);
            for (row, line) in lines.iter().skip(first).enumerate() {
                page.put(x, 4 + row, line, Ink::PLAIN);
            }
            return;
        }
        let lines = sheet(self.playing.game());
        let first = lines.len().saturating_sub(rows);
        for (row, line) in lines.iter().skip(first).enumerate() {
            page.put(x, 2 + row, line, Ink::PLAIN);
        }
        if let Some(end) = self.playing.end() {
            let game = self.playing.game();
            let outcome = game.outcome().map_or("", |o| o.word());
            let said = format!(
                "The game is over: {} ({outcome}). Enter shows where it slipped.",
                end.words(game.side())
            );
            let y = 3 + lines.len().min(rows);
            page.put_wrapped((x, y, width, 4), &said, Ink::PLAIN.bold());
        }
    }

    fn prompt(&self) -> String {
        if self.playing.end().is_some() {
            return "over".to_owned();
        }
        if self.writing {
            return "line".to_owned();
        }
        if self.thinking.is_some() {
            return "his move".to_owned();
        }
        "your move".to_owned()
    }
}

/// The moves two by two, as on a score sheet.
pub(crate) fn sheet(game: &crate::playout::Game) -> Vec<String> {
    use shakmaty::Position;
    let mut rows: Vec<String> = Vec::new();
    for (ply, san) in game.line().sans().into_iter().enumerate() {
        let Some(pos) = game.line().position_at(ply) else {
            break;
        };
        let number = pos.fullmoves();
        match (pos.turn().is_white(), rows.last_mut()) {
            (true, _) => rows.push(format!("{number:>3}. {san:<8}")),
            (false, Some(row)) if ply > 0 => row.push_str(&san),
            (false, _) => rows.push(format!("{number:>3}. {:<8}{san}", "...")),
        }
    }
    rows
}
