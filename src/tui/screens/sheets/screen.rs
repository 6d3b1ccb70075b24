//! Typing the sheet: what keys and lines do. `view.rs` shows the state.

use super::open::{Doing, OpenSheet};
use super::reading::SheetReading;
use super::view;
use crate::app::AppError;
use crate::tui::input::action::{Action, CommonAction, EditAction, OwnGameAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::Route;
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::board::BoardAppearance;
use crate::tui::widgets::canvas::Canvas;
use crate::tui::widgets::chrome::Notice;
use crate::tui::widgets::line_editor::LineEditor;
use crate::tui::widgets::list::ListView;

const CONTEXTS: &[KeyContext] = &[KeyContext::Sheet, KeyContext::Line];
const READINGS: &[KeyContext] = &[KeyContext::SheetReadings];
const SIDE: &[KeyContext] = &[KeyContext::SheetSide];

/// Typing the sheet.
pub struct SheetScreen {
    open: OpenSheet,
    /// He was told that there is no result.
    told_result: bool,
}

impl SheetScreen {
    /// The sheet that was begun, or an empty one.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn open(ctx: &Context) -> Result<Self, AppError> {
        let (draft, typed) = ctx.app.games().begun_sheet()?.unwrap_or_default();
        let mut line = LineEditor::default();
        line.set(&typed);
        let mut reading = SheetReading::default();
        reading.begin(&draft);
        let open = OpenSheet {
            at: draft.entries.len(),
            draft,
            line,
            reading,
            look: BoardAppearance::of(&shakmaty::Chess::default()),
            doing: Doing::Typing,
            notice: None,
        };
        Ok(Self {
            open,
            told_result: false,
        })
    }

    /// The sheet is another one: kept, and read anew.
    fn changed(&mut self, ctx: &Context) {
        self.open.at = self.open.at.min(self.open.draft.entries.len());
        self.told_result = false;
        self.open.reading.begin(&self.open.draft);
        if let Err(error) = ctx.app.games().keep_sheet(&self.open.draft) {
            self.open.notice = Some(Notice::error(&error));
        }
    }

    /// The line is another one: kept.
    fn keep_line(&mut self, ctx: &Context) {
        if let Err(error) = ctx.app.games().keep_sheet_line(self.open.line.text()) {
            self.open.notice = Some(Notice::error(&error));
        }
    }

    fn act(mut self: Box<Self>, action: Action, ctx: &Context) -> Transition {
        match action {
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Back) if !self.open.line.is_empty() => {
                self.open.line.set("");
                self.keep_line(ctx);
            }
            Action::Common(CommonAction::Back) => {
                let words = tr!("The sheet is kept: go on with it any time.");
                return Transition::Back(Notice::Quiet(words.to_owned()));
            }
            Action::Common(CommonAction::Open) => self.submit(ctx),
            Action::Common(CommonAction::Up) => self.open.at = self.open.at.saturating_sub(2),
            Action::Common(CommonAction::Down) => self.go(self.open.at + 2),
            Action::Common(CommonAction::PageUp) => self.open.at = self.open.at.saturating_sub(20),
            Action::Common(CommonAction::PageDown) => self.go(self.open.at + 20),
            Action::Common(CommonAction::Flip) => self.open.look.flip(),
            Action::Edit(EditAction::Left) if self.open.line.is_empty() => {
                self.open.at = self.open.at.saturating_sub(1);
            }
            Action::Edit(EditAction::Right) if self.open.line.is_empty() => {
                self.go(self.open.at + 1)
            }
            Action::Edit(edit) => {
                self.open.line.edit(edit);
                self.keep_line(ctx);
            }
            Action::OwnGame(OwnGameAction::Readings) => self.choose(),
            Action::OwnGame(OwnGameAction::TakeOut) => {
                // Behind the last one: that one.
                self.open.at = self
                    .open
                    .at
                    .min(self.open.draft.entries.len().saturating_sub(1));
                self.open.draft.remove(self.open.at);
                self.changed(ctx);
            }
            Action::OwnGame(OwnGameAction::AsFar) => self.cut(ctx),
            Action::OwnGame(OwnGameAction::Done) => return self.done(ctx),
            Action::OwnGame(OwnGameAction::PutAway) => return self.put_away(ctx),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn go(&mut self, at: usize) {
        self.open.at = at.min(self.open.draft.entries.len());
    }

    /// Enter: the line goes to its place.
    fn submit(&mut self, ctx: &Context) {
        let line = self.open.line.text().to_owned();
        if line.trim().is_empty() {
            // Back to where the sheet goes on.
            self.open.at = self.open.draft.entries.len();
            return;
        }
        let anew = self.open.at < self.open.draft.entries.len();
        match self.open.draft.take(self.open.at, &line) {
            Ok(next) => {
                // Whoever has mended an earlier move goes on where the sheet goes on.
                self.open.at = if anew {
                    self.open.draft.entries.len()
                } else {
                    next
                };
                self.open.line.finish();
                self.keep_line(ctx);
                self.changed(ctx);
            }
            Err(error) => self.open.notice = Some(Notice::error(&error)),
        }
    }

    /// Why there is no reading of the sheet.
    fn unread(&self) -> &'static str {
        if self.open.reading.is_coming() {
            tr!("The sheet is still being read.")
        } else {
            tr!("No move is on the sheet yet.")
        }
    }

    fn choose(&mut self) {
        let words = match self.open.reading.now() {
            None => self.unread(),
            Some((_, fitted)) if fitted.misfit.is_none() => tr!("The sheet fits as it stands."),
            Some((_, fitted)) if fitted.repairs.is_empty() => {
                tr!(
                    "No reading with one or two slips of the pen makes the rest fit; look at the sheet again."
                )
            }
            Some(_) => {
                self.open.doing = Doing::Choosing(ListView::default());
                return;
            }
        };
        self.open.notice = Some(Notice::Quiet(words.to_owned()));
    }

    /// Takes the reading of that place in the list.
    fn mend(&mut self, place: usize, ctx: &Context) {
        if let Some((sheet, _)) = self.open.reading.now()
            && let Some(repair) = self.open.reading.repairs().get(place)
        {
            self.open.draft.mend(sheet, repair);
            self.open.at = self.open.draft.entries.len();
            self.open.doing = Doing::Typing;
            let mended = self.open.draft.mended.last().cloned();
            self.open.notice = mended.map(Notice::Quiet);
            self.changed(ctx);
        }
    }

    /// The sheet ends where it stops to fit.
    fn cut(&mut self, ctx: &Context) {
        let misfit = match self.open.reading.now() {
            None => Err(self.unread()),
            Some((_, fitted)) => fitted.misfit.ok_or(tr!("The sheet fits as it stands.")),
        };
        let at = match misfit {
            Ok(at) => at,
            Err(words) => {
                self.open.notice = Some(Notice::Quiet(words.to_owned()));
                return;
            }
        };
        let gone = self.open.draft.entries.len().saturating_sub(at);
        self.open.draft.cut(at);
        self.open.at = at;
        self.changed(ctx);
        let words = tr!(gone; "The last move is taken off the sheet." | "The last {} moves are taken off the sheet.", gone);
        self.open.notice = Some(Notice::Quiet(words));
    }

    /// The game goes to his own games.
    fn done(mut self: Box<Self>, ctx: &Context) -> Transition {
        let words = match self.open.reading.now() {
            _ if !self.open.line.is_empty() => {
                tr!("Finish the line first: Enter writes it, Esc empties it.")
            }
            None => self.unread(),
            Some((_, fitted)) if fitted.misfit.is_some() => {
                tr!(
                    "The sheet does not fit yet: F2 shows the readings, an earlier move can be typed anew, F5 ends it where it stops to fit."
                )
            }
            Some((sheet, _)) if sheet.result == "*" && !self.told_result => {
                self.told_result = true;
                tr!(
                    "No result is on the sheet: type 1-0, 0-1 or 1/2, or press F10 again to add the game without."
                )
            }
            Some(_) => match ctx.app.games().player() {
                Ok(Some(_)) => return self.add(None, ctx),
                Ok(None) => match (self.open.tag("White"), self.open.tag("Black")) {
                    (Some(_), Some(_)) => {
                        self.open.doing = Doing::AskingSide;
                        return Transition::Stay(self);
                    }
                    _ => tr!("Type who played: 'White: Verrick, Ansa', then 'Black: ...'."),
                },
                Err(error) => return self.tell(&error),
            },
        };
        self.open.notice = Some(Notice::Alert(words.to_owned()));
        Transition::Stay(self)
    }

    fn add(self: Box<Self>, player: Option<String>, ctx: &Context) -> Transition {
        let Some((sheet, fitted)) = self.open.reading.now() else {
            return Transition::Stay(self);
        };
        let pgn = (ctx.texts.sheet)(sheet, fitted);
        match ctx.app.games().add_sheet(&pgn, player) {
            Ok(added) => {
                let words = match added.new {
                    0 => tr!("The game was there already."),
                    _ => {
                        tr!(
                            "The game is among yours: Enter writes what you think of it, before any engine speaks."
                        )
                    }
                };
                Transition::Back(Notice::Quiet(words.to_owned()))
            }
            Err(error) => self.tell(&error),
        }
    }

    fn tell(mut self: Box<Self>, error: &AppError) -> Transition {
        self.open.doing = Doing::Typing;
        self.open.notice = Some(Notice::error(error));
        Transition::Stay(self)
    }

    fn put_away(self: Box<Self>, ctx: &Context) -> Transition {
        let moves = self.open.draft.entries.len();
        if moves > 0 {
            let words = tr!("Only an empty sheet is put away: take its moves off first (F4).");
            let mut screen = self;
            screen.open.notice = Some(Notice::Alert(words.to_owned()));
            return Transition::Stay(screen);
        }
        match ctx.app.games().drop_sheet() {
            Ok(()) => Transition::Back(Notice::Quiet(tr!("The sheet is put away.").to_owned())),
            Err(error) => self.tell(&error),
        }
    }

    fn pick(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        let Doing::Choosing(list) = &mut self.open.doing else {
            return Transition::Stay(self);
        };
        let count = self.open.reading.repairs().len();
        match input {
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(READINGS));
            }
            ScreenInput::Action(Action::Common(CommonAction::Back)) => {
                self.open.doing = Doing::Typing
            }
            ScreenInput::Action(Action::Common(CommonAction::Open)) => {
                let at = list.at();
                self.mend(at, ctx);
            }
            ScreenInput::Pick(place) => self.mend(place, ctx),
            ScreenInput::Action(action) => list.walk(action, count),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn side(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        let player = match input {
            ScreenInput::Action(Action::OwnGame(OwnGameAction::AsWhite)) => self.open.tag("White"),
            ScreenInput::Action(Action::OwnGame(OwnGameAction::AsBlack)) => self.open.tag("Black"),
            ScreenInput::Action(Action::Common(CommonAction::Help)) => {
                return Transition::Push(self, Route::Help(SIDE));
            }
            ScreenInput::Action(Action::Common(CommonAction::Back)) => {
                self.open.doing = Doing::Typing;
                return Transition::Stay(self);
            }
            _ => return Transition::Stay(self),
        };
        let player = player.map(str::to_owned);
        self.add(player, ctx)
    }
}

impl Screen for SheetScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        match self.open.doing {
            Doing::Typing => CONTEXTS,
            Doing::Choosing(_) => READINGS,
            Doing::AskingSide => SIDE,
        }
    }

    fn handle(mut self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        if matches!(input, ScreenInput::Click(_)) {
            return Transition::Stay(self);
        }
        self.open.reading.take();
        self.open.notice = None;
        match (&self.open.doing, input) {
            (Doing::Choosing(_), input) => self.pick(input, ctx),
            (Doing::AskingSide, input) => self.side(input, ctx),
            (Doing::Typing, ScreenInput::Action(action)) => self.act(action, ctx),
            (Doing::Typing, ScreenInput::Char(c)) => {
                self.open.line.insert(c);
                self.keep_line(ctx);
                Transition::Stay(self)
            }
            _ => Transition::Stay(self),
        }
    }

    /// What was read behind the screen comes.
    fn tick(&mut self, _ctx: &Context) -> Option<Route> {
        self.open.reading.take();
        None
    }

    fn time_text(&self, _ctx: &Context) -> String {
        format!(
            "{} {}",
            self.open.reading.is_coming(),
            self.open.draft.text()
        )
    }

    fn notify(&mut self, notice: Notice) {
        self.open.notice = Some(notice);
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        view::draw(&self.open, canvas, ctx);
    }
}
