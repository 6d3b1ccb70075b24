//! After a game that was played out: the expected score move by move, and the decisions that cost.

use std::sync::mpsc::{self, Receiver};
use std::thread;

use shakmaty::Position;

use crate::app::{App, AppError, Playing};
use crate::playout::{Account, Moment};
use crate::review::standing;
use crate::score::PlayerScore;
use crate::text;
use crate::tui::input::bindings;
use crate::tui::input::bindings::{Do, Place};
use crate::tui::input::key::Key;
use crate::tui::router::{Desk, Next, Screen};
use crate::tui::screens::game::screen::Playout;
use crate::tui::screens::overlays::help::HelpScreen;
use crate::tui::widgets::board::{BoardLook, BoardView, Scale};
use crate::tui::widgets::canvas::{Ink, Page};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Answer;

/// The account of one game.
pub struct After {
    app: App,
    playing: Playing,
    account: Option<Result<Account, AppError>>,
    coming: Option<Receiver<Result<Account, AppError>>>,
    at: usize,
    look: BoardLook,
    answer: Option<Answer>,
}

/// Rows of the chart.
const ROWS: usize = 4;

impl After {
    /// Begins the account; the screen waits for it.
    #[must_use]
    pub fn begin(app: App, playing: Playing) -> Screen {
        let (send, receive) = mpsc::channel();
        let (worker, id) = (app.clone(), playing.id().clone());
        thread::spawn(move || {
            // Nobody listens any more where the screen was left meanwhile.
            let _ = send.send(worker.playouts().account(&id, &mut |_, _| {}));
        });
        let mut look = BoardLook::of(playing.game().line().position());
        look.below = playing.game().side();
        Screen::After(Box::new(Self {
            app,
            playing,
            account: None,
            coming: Some(receive),
            at: 0,
            look,
            answer: None,
        }))
    }

    /// Lets time pass: the account comes.
    pub fn tick(&mut self) {
        if let Some(account) = self.coming.as_ref().and_then(|c| c.try_recv().ok()) {
            self.account = Some(account);
            self.coming = None;
        }
    }

    fn moments(&self) -> &[Moment] {
        match &self.account {
            Some(Ok(account)) => &account.moments,
            _ => &[],
        }
    }

    pub fn press(mut self, key: Key, desk: &Desk) -> Next {
        self.answer = None;
        match bindings::find(&[Place::After], key) {
            Some(Do::Back) => return Next::Home(None),
            Some(Do::Help) => {
                let help = HelpScreen::of(&[Place::After]);
                return Next::Over(Screen::After(Box::new(self)), help);
            }
            Some(Do::Flip) => self.look.flip(),
            Some(Do::NextFinding) => {
                self.at = (self.at + 1).min(self.moments().len().saturating_sub(1));
            }
            Some(Do::PreviousFinding) => self.at = self.at.saturating_sub(1),
            Some(Do::Again) => return self.again(desk),
            _ => {}
        }
        Next::Stay(Screen::After(Box::new(self)))
    }

    /// The game from the marked decision on, or all of it where no decision cost.
    fn again(mut self, desk: &Desk) -> Next {
        let from = self
            .moments()
            .get(self.at)
            .and_then(|m| self.playing.game().line().position_at(m.ply))
            .map(|p| p.fullmoves().get() as usize);
        match self.app.playouts().playout_again(self.playing.id(), from) {
            Ok(playing) => Next::Stay(Playout::on(desk.app.clone(), playing)),
            Err(error) => {
                self.answer = Some(Answer::error(&error));
                Next::Stay(Screen::After(Box::new(self)))
            }
        }
    }

    /// What changes without a key.
    #[must_use]
    pub fn moving(&self) -> String {
        self.account.is_some().to_string()
    }

    pub fn draw(&self, page: &mut Page, desk: &Desk) {
        let game = self.playing.game();
        let outcome = game.outcome().map_or("", |o| o.word());
        chrome::title(page, &format!("The game: {outcome}"), "");
        match &self.account {
            None => {
                page.put(4, 3, "Going through the game ...", Ink::PLAIN.bold());
            }
            Some(Err(error)) => {
                let area = (4, 3, page.width() - 8, 6);
                page.put_wrapped(area, &error.to_string(), Ink::ALERT.bold());
            }
            Some(Ok(account)) => self.draw_account(page, desk, account),
        }
        if let Some(answer) = &self.answer {
            answer.draw(page, page.height() - 3);
        }
        chrome::bar(page, Place::After);
    }

    fn draw_account(&self, page: &mut Page, desk: &Desk, account: &Account) {
        let scale = Scale::fitting(page);
        let game = self.playing.game();
        let moment = account.moments.get(self.at);
        let here = match moment {
            Some(moment) => game.line().position_at(moment.ply),
            None => Some(game.line().position()),
        };
        if let Some(position) = here {
            let view = BoardView {
                board: position.board(),
                look: self.look,
                glyphs: desk.glyphs,
                marked: &[],
            };
            view.draw(page, 0, 2, scale);
        }
        let x = scale.width() + 3;
        let y = chart(page, account, (x, 2));
        let width = page.width() - x;
        let rows = page.height().saturating_sub(y + 2);
        let Some(moment) = moment else {
            let mut words = "No single move gave the result away.".to_owned();
            if let Some(worth) = account.left_behind() {
                words.push_str(&format!(
                    " In the last position {}.",
                    standing(PlayerScore::new(worth))
                ));
            }
            page.put_wrapped((x, y + 1, width, rows), &words, Ink::PLAIN);
            return;
        };
        let heading = format!(
            "{} of {}: {} ({}, {})",
            self.at + 1,
            account.moments.len(),
            moment.played,
            text::clock(moment.took_ms),
            if moment.written {
                "with lines written"
            } else {
                "nothing written"
            }
        );
        page.put(x, y + 1, &heading, Ink::ACCENT.bold());
        let next = page.put_wrapped((x, y + 2, width, 8), &moment.sentence, Ink::PLAIN);
        if let Some(chance) = &moment.chance {
            let words = format!("What it allowed: {}, {}.", chance.reply, chance.kind);
            page.put_wrapped((x, next, width, 2), &words, Ink::QUIET);
        }
        let facts = account
            .drifts
            .iter()
            .map(|d| {
                format!(
                    "Moves {} to {}: worse step by step, without one mistake.",
                    d.from_move, d.to_move
                )
            })
            .chain(account.simpler.iter().map(|s| s.sentence.clone()));
        let mut y = 4 + scale.height();
        for fact in facts {
            let room = page.height().saturating_sub(y + 2).min(2);
            y = page.put_wrapped((0, y, page.width(), room), &fact, Ink::QUIET);
        }
    }
}

/// How the player stood after each of his moves; gives the row below.
fn chart(page: &mut Page, account: &Account, (x, y): (usize, usize)) -> usize {
    let own: Vec<f64> = account
        .moves
        .iter()
        .filter(|m| m.own)
        .map(|m| m.after)
        .collect();
    let room = page.width().saturating_sub(x + 9);
    // A long game is thinned out to the room there is: the worst of each group stands for it.
    let group = own.len().div_ceil(room.max(1)).max(1);
    let columns: Vec<f64> = own
        .chunks(group)
        .map(|c| c.iter().copied().fold(1.0, f64::min))
        .collect();
    for row in 0..ROWS {
        let floor = (ROWS - row - 1) as f64 / ROWS as f64;
        let word = match row {
            0 => "winning",
            r if r + 1 == ROWS => "lost",
            _ => "",
        };
        let line: String = columns
            .iter()
            .map(|e| if *e >= floor { '#' } else { ' ' })
            .collect();
        page.put(x, y + row, &format!("{word:>7} {line}"), Ink::QUIET);
    }
    y + ROWS
}
