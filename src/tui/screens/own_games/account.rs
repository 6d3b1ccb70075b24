//! The account of an own game beside a board: the moments under the cursor, move by move, and the whole of it as a page.

use super::waiting::Waiting;
use crate::app::GameAccountRead;
use crate::games::account::bands::Shares;
use crate::games::survey::Settings;
use crate::text;
use crate::tui::forms::own_game;
use crate::tui::input::action::{Action, CommonAction, ReviewAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::board::BoardAppearance;
use crate::tui::widgets::canvas::{Canvas, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::page::{PageScroll, TextPage};

const CONTEXTS: &[KeyContext] = &[KeyContext::OwnAccount];
/// Half-moves of the game that stand beside the board after the cursor.
const AFTER: usize = 6;

/// The account of one own game.
pub struct OwnAccountScreen {
    told: Waiting<Told>,
    /// The half-move that comes next on the board.
    ply: usize,
    /// The whole account is shown as one page.
    whole: bool,
    scroll: PageScroll,
    look: BoardAppearance,
}

/// The account with its words.
struct Told {
    read: GameAccountRead,
    text: String,
    /// What is said of a half-move, by half-moves.
    stops: Vec<(usize, String)>,
}

impl OwnAccountScreen {
    /// Begins to judge the game; the screen waits for it.
    #[must_use]
    pub fn begin(ctx: &Context, id: String) -> Self {
        let texts = ctx.texts;
        let told = Waiting::begin(&ctx.app, move |app, step| {
            let game = app.games().own_game(&id)?;
            let read = app
                .games()
                .account_of_game(&game, &Settings::default(), step)?;
            Ok(Told {
                text: (texts.own_game)(&read),
                stops: (texts.own_game_stops)(&read),
                read,
            })
        });
        Self {
            told,
            ply: 0,
            whole: false,
            scroll: PageScroll::default(),
            look: BoardAppearance::of(&shakmaty::Chess::default()),
        }
    }

    /// An account that is known already.
    #[cfg(test)]
    pub(crate) fn of(ctx: &Context, read: GameAccountRead) -> Self {
        let told = Told {
            text: (ctx.texts.own_game)(&read),
            stops: (ctx.texts.own_game_stops)(&read),
            read,
        };
        let mut screen = Self {
            told: Waiting::over(told),
            ply: 0,
            whole: false,
            scroll: PageScroll::default(),
            look: BoardAppearance::of(&shakmaty::Chess::default()),
        };
        screen.settle();
        screen
    }

    fn known(&self) -> Option<&Told> {
        self.told.done.as_ref().and_then(|d| d.as_ref().ok())
    }

    /// His side below, and the first thing that is said.
    fn settle(&mut self) {
        if let Some(told) = self.known() {
            let side = told.read.surveyed.game.side;
            let first = told.stops.first().map_or(0, |s| s.0);
            self.look.below = side;
            self.ply = first;
        }
    }

    fn go(&mut self, ply: usize) {
        let last = self.known().map_or(0, |t| t.read.surveyed.game.plies());
        self.ply = ply.min(last);
        self.scroll.reset();
    }

    /// To the next half-move of which something is said, or the one before.
    fn turn(&mut self, forward: bool) {
        let here = self.ply;
        let mut stops = self.known().into_iter().flat_map(|t| &t.stops);
        let found = match forward {
            true => stops.find(|s| s.0 > here),
            false => stops.rfind(|s| s.0 < here),
        };
        if let Some(ply) = found.map(|s| s.0) {
            self.go(ply);
        }
    }
}

impl Screen for OwnAccountScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, _ctx: &Context) -> Transition {
        let ScreenInput::Action(action) = input else {
            return Transition::Stay(self);
        };
        match action {
            Action::Common(CommonAction::Back) if self.whole => self.whole = false,
            Action::Common(CommonAction::Back) => return Transition::Pop,
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Review(ReviewAction::Figures) => {
                self.whole ^= true;
                self.scroll.reset();
            }
            action if self.whole => self.scroll.walk(match action {
                Action::Review(ReviewAction::NextFinding) => Action::Common(CommonAction::Down),
                Action::Review(ReviewAction::PreviousFinding) => Action::Common(CommonAction::Up),
                action => action,
            }),
            Action::Common(CommonAction::Flip) => self.look.flip(),
            Action::Review(ReviewAction::NextFinding) => self.turn(true),
            Action::Review(ReviewAction::PreviousFinding) => self.turn(false),
            Action::Review(ReviewAction::Forward) => self.go(self.ply + 1),
            Action::Review(ReviewAction::Backward) => self.go(self.ply.saturating_sub(1)),
            action => self.scroll.walk(action),
        }
        Transition::Stay(self)
    }

    /// The account comes.
    fn tick(&mut self, _ctx: &Context) -> Option<Route> {
        if self.told.take() {
            self.settle();
        }
        None
    }

    fn time_text(&self, _ctx: &Context) -> String {
        self.told.time_text()
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let heading = self.known().map(|t| t.read.surveyed.game.heading());
        let heading = heading.as_deref().map(text::dates_in);
        chrome::title(canvas, heading.as_deref().unwrap_or(tr!("The game")), "");
        if let Some(told) = self.told.draw(canvas) {
            match self.whole {
                true => {
                    let mut page = TextPage::new(canvas.width());
                    page.lines(&told.text);
                    let rows = canvas.height().saturating_sub(4);
                    page.draw(canvas, (0, 2, rows), &self.scroll);
                }
                false => self.draw_board(canvas, told, ctx),
            }
        }
        chrome::bar(canvas, KeyContext::OwnAccount);
    }
}

impl OwnAccountScreen {
    fn draw_board(&self, canvas: &mut Canvas, told: &Told, ctx: &Context) {
        let game = &told.read.surveyed.game;
        let x = own_game::draw_board(canvas, game, self.ply, self.look, ctx.display.glyphs);
        let mut page = TextPage::new(canvas.width() - x);
        let around = own_game::moves_around(game, self.ply, AFTER, |_| "");
        page.say(&around, TextStyle::PLAIN);
        page.gap();
        self.tell(&mut page, told);
        let rows = canvas.height().saturating_sub(4);
        page.draw(canvas, (x, 2, rows), &self.scroll);
    }

    fn tell(&self, page: &mut TextPage, told: &Told) {
        let account = &told.read.account;
        let before = self.ply.checked_sub(1).and_then(|p| account.moves.get(p));
        let shares = before.map_or(account.start, |m| m.shares);
        page.say(&of_hundred(&shares), TextStyle::PLAIN.bold());
        if let Some(mv) = account.moves.get(self.ply) {
            let whose = if mv.his { tr!("Your") } else { tr!("His") };
            let time = match (mv.spent_ms, mv.left_ms) {
                (Some(spent), Some(left)) => {
                    let (spent, left) = (text::clock(spent), text::clock(left));
                    tr!("{whose} move; {left} on the clock, {spent} taken.")
                }
                _ => tr!("{whose} move."),
            };
            page.say(&time, TextStyle::QUIET);
        } else {
            page.say(tr!("The end of the game."), TextStyle::QUIET);
        }
        let said = told.stops.iter().filter(|s| s.0 == self.ply);
        for (_, words) in said {
            page.gap();
            page.say(words, TextStyle::PLAIN);
        }
        if told.stops.is_empty() {
            page.gap();
            page.say(tr!("No move of it stands out."), TextStyle::QUIET);
        }
    }
}

/// 'Of a hundred such games: 61 won, 20 drawn, 19 lost.'
fn of_hundred(shares: &Shares) -> String {
    let hundredth = |share: f64| (100.0 * share).round();
    let (won, lost) = (hundredth(shares.win), hundredth(shares.loss));
    // Rounded each by itself the three would not always be a hundred.
    let drawn = 100.0 - won - lost;
    tr!("Of a hundred such games: {won} won, {drawn} drawn, {lost} lost.")
}
