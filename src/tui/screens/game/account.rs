//! After a game that was played out: the expected score move by move, and the decisions that cost.

use std::sync::mpsc::{self, Receiver};
use std::thread;

use shakmaty::Position;

use crate::app::{AppError, PlayoutSession};
use crate::playout::{Account, Moment};
use crate::review::standing;
use crate::score::PlayerScore;
use crate::text;
use crate::tui::input::action::{Action, CommonAction, ReviewAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::board::{BoardAppearance, BoardScale, BoardView};
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::page::{PageScroll, TextPage};

const CONTEXTS: &[KeyContext] = &[KeyContext::GameAccount];

/// The account of one game.
pub struct GameAccountScreen {
    playing: PlayoutSession,
    account: Option<Result<Account, AppError>>,
    coming: Option<Receiver<Result<Account, AppError>>>,
    at: usize,
    /// The whole account is shown as one page.
    whole: bool,
    scroll: PageScroll,
    look: BoardAppearance,
    notice: Option<Notice>,
}

/// Rows of the chart.
const ROWS: usize = 4;

impl GameAccountScreen {
    /// Begins the account; the screen waits for it.
    #[must_use]
    pub fn begin(ctx: &Context, playing: PlayoutSession) -> Self {
        let (send, receive) = mpsc::channel();
        let (worker, id) = (ctx.app.clone(), playing.id().clone());
        thread::spawn(move || {
            // Nobody listens any more where the screen was left meanwhile.
            let _ = send.send(worker.playouts().account(&id, &mut |_, _| {}));
        });
        let mut look = BoardAppearance::of(playing.game().line().position());
        look.below = playing.game().side();
        Self {
            playing,
            account: None,
            coming: Some(receive),
            at: 0,
            whole: false,
            scroll: PageScroll::default(),
            look,
            notice: None,
        }
    }

    /// An account that is known already.
    #[cfg(test)]
    pub(crate) fn of(playing: PlayoutSession, account: Account) -> Self {
        let look = BoardAppearance::of(playing.game().line().position());
        Self {
            playing,
            account: Some(Ok(account)),
            coming: None,
            at: 0,
            whole: false,
            scroll: PageScroll::default(),
            look,
            notice: None,
        }
    }

    fn moments(&self) -> &[Moment] {
        match &self.account {
            Some(Ok(account)) => &account.moments,
            _ => &[],
        }
    }

    fn act(mut self: Box<Self>, action: Action, ctx: &Context) -> Transition {
        match action {
            Action::Common(CommonAction::Back) if self.whole => self.whole = false,
            Action::Common(CommonAction::Back) => return Transition::Pop,
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Flip) => self.look.flip(),
            Action::Review(ReviewAction::NextFinding) => {
                self.turn_to((self.at + 1).min(self.moments().len().saturating_sub(1)));
            }
            Action::Review(ReviewAction::PreviousFinding) => {
                self.turn_to(self.at.saturating_sub(1));
            }
            Action::Review(ReviewAction::Figures) => {
                self.whole ^= true;
                self.scroll.reset();
            }
            Action::Common(CommonAction::Again) => return self.again(ctx),
            action => self.scroll.walk(action),
        }
        Transition::Stay(self)
    }

    fn turn_to(&mut self, at: usize) {
        self.at = at;
        self.scroll.reset();
    }

    /// The game from the marked decision on, or all of it where no decision cost.
    fn again(mut self: Box<Self>, ctx: &Context) -> Transition {
        let from = self
            .moments()
            .get(self.at)
            .and_then(|m| self.playing.game().line().position_at(m.ply))
            .map(|p| p.fullmoves().get() as usize);
        match ctx.app.playouts().playout_again(self.playing.id(), from) {
            Ok(playing) => Transition::Replace(Route::Game(Box::new(playing))),
            Err(error) => {
                self.notice = Some(Notice::error(&error));
                Transition::Stay(self)
            }
        }
    }
}

impl Screen for GameAccountScreen {
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

    /// The account comes.
    fn tick(&mut self, _ctx: &Context) -> Option<Route> {
        if let Some(account) = self.coming.as_ref().and_then(|c| c.try_recv().ok()) {
            self.account = Some(account);
            self.coming = None;
        }
        None
    }

    fn time_text(&self, _ctx: &Context) -> String {
        self.account.is_some().to_string()
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let game = self.playing.game();
        let outcome = game.outcome().map_or("", |o| o.word());
        chrome::title(canvas, &tr!("The game: {outcome}"), "");
        match &self.account {
            None => {
                canvas.put(
                    4,
                    3,
                    tr!("Going through the game ..."),
                    TextStyle::PLAIN.bold(),
                );
            }
            Some(Err(error)) => {
                let area = (4, 3, canvas.width() - 8, 6);
                canvas.put_wrapped(area, &error.to_string(), TextStyle::ALERT.bold());
            }
            Some(Ok(account)) => self.draw_account(canvas, ctx, account),
        }
        if let Some(notice) = &self.notice {
            notice.draw(canvas, canvas.height() - 3);
        }
        chrome::bar(canvas, KeyContext::GameAccount);
    }
}

impl GameAccountScreen {
    fn draw_account(&self, canvas: &mut Canvas, ctx: &Context, account: &Account) {
        if self.whole {
            let mut page = TextPage::new(canvas.width());
            page.lines(&(ctx.texts.account)(account));
            let rows = canvas.height().saturating_sub(4);
            return page.draw(canvas, (0, 2, rows), &self.scroll);
        }
        let scale = BoardScale::fitting(canvas);
        let moment = account.moments.get(self.at);
        self.draw_board(canvas, ctx, scale, moment);
        let x = scale.width() + 3;
        let y = chart(canvas, account, (x, 2)) + 1;
        let mut page = TextPage::new(canvas.width() - x);
        match moment {
            Some(moment) => self.tell_moment(&mut page, account, moment),
            None => tell_no_moment(&mut page, account),
        }
        tell_facts(&mut page, account);
        let rows = canvas.height().saturating_sub(y + 2);
        page.draw(canvas, (x, y, rows), &self.scroll);
    }

    /// The position of the decision, or the last one.
    fn draw_board(
        &self,
        canvas: &mut Canvas,
        ctx: &Context,
        scale: BoardScale,
        moment: Option<&Moment>,
    ) {
        let line = self.playing.game().line();
        let here = match moment {
            Some(moment) => line.position_at(moment.ply),
            None => Some(line.position()),
        };
        if let Some(position) = here {
            let view = BoardView {
                board: position.board(),
                look: self.look,
                glyphs: ctx.display.glyphs,
                marked: &[],
            };
            view.draw(canvas, 0, 2, scale);
        }
    }

    fn tell_moment(&self, page: &mut TextPage, account: &Account, moment: &Moment) {
        let how = if moment.written {
            tr!("with lines written")
        } else {
            tr!("nothing written")
        };
        let left = moment
            .left_ms
            .map_or(String::new(), |ms| tr!(", {} left", text::clock(ms)));
        let heading = tr!(
            "{} of {}: {} ({how}, after {}{left})",
            self.at + 1,
            account.moments.len(),
            moment.played,
            text::clock(moment.took_ms)
        );
        page.say(&heading, TextStyle::ACCENT.bold());
        page.say(&moment.sentence, TextStyle::PLAIN);
        if let Some(chance) = &moment.chance {
            let then = if chance.taken {
                tr!("He played it")
            } else {
                tr!("He did not play it")
            };
            let words = tr!(
                "What it allowed: {}, {}. {then}.",
                chance.reply,
                chance.kind
            );
            page.say(&words, TextStyle::QUIET);
        }
    }
}

fn tell_no_moment(page: &mut TextPage, account: &Account) {
    let mut words = tr!("No single move gave the result away.").to_owned();
    if let Some(worth) = account.left_behind() {
        words.push_str(&tr!(
            " In the last position {}.",
            standing(PlayerScore::new(worth))
        ));
    }
    page.say(&words, TextStyle::PLAIN);
}

/// What no single decision explains, and his plans.
fn tell_facts(page: &mut TextPage, account: &Account) {
    page.gap();
    page.say(&tr!("The game: {}.", account.end), TextStyle::QUIET);
    for drift in &account.drifts {
        let words = tr!(
            "Moves {} to {}: worse step by step, without one mistake.",
            drift.from_move,
            drift.to_move
        );
        page.say(&words, TextStyle::QUIET);
    }
    for simpler in &account.simpler {
        page.say(&simpler.sentence, TextStyle::QUIET);
    }
    for plan in &account.plans {
        let words = tr!(
            "Your plan before move {}: '{}'. Then came: {}.",
            plan.before_move,
            plan.text,
            plan.played.join(" ")
        );
        page.say(&words, TextStyle::QUIET);
    }
    page.say(tr!("g shows the whole account."), TextStyle::QUIET);
}

/// How the player stood after each of his moves; gives the row below.
fn chart(canvas: &mut Canvas, account: &Account, (x, y): (usize, usize)) -> usize {
    let own: Vec<f64> = account
        .moves
        .iter()
        .filter(|m| m.own)
        .map(|m| m.after)
        .collect();
    let room = canvas.width().saturating_sub(x + 9);
    // A long game is thinned out to the room there is: the worst of each group stands for it.
    let group = own.len().div_ceil(room.max(1)).max(1);
    let columns: Vec<f64> = own
        .chunks(group)
        .map(|c| c.iter().copied().fold(1.0, f64::min))
        .collect();
    for row in 0..ROWS {
        let floor = (ROWS - row - 1) as f64 / ROWS as f64;
        let word = match row {
            0 => tr!("winning"),
            r if r + 1 == ROWS => tr!("lost"),
            _ => "",
        };
        let line: String = columns
            .iter()
            .map(|e| if *e >= floor { '#' } else { ' ' })
            .collect();
        canvas.put(x, y + row, &format!("{word:>7} {line}"), TextStyle::QUIET);
    }
    y + ROWS
}
