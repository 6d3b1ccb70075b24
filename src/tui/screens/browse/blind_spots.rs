//! Blind spots, each with the very moments it is made of: a moment opens in its review.

use crate::app::{AppError, BlindSpot, MissedMoment};
use crate::tui::input::action::{Action, CommonAction, ListAction};
use crate::tui::input::bindings::KeyContext;
use crate::tui::labels;
use crate::tui::nav::context::Context;
use crate::tui::nav::route::{ReviewRequest, Route};
use crate::tui::nav::screen::{Screen, Transition};
use crate::tui::nav::screen_input::ScreenInput;
use crate::tui::widgets::canvas::{Canvas, ClickTarget, TextStyle};
use crate::tui::widgets::chrome;
use crate::tui::widgets::list::ListView;

const CONTEXTS: &[KeyContext] = &[KeyContext::BlindSpots];

/// The list.
pub struct BlindSpotsScreen {
    spots: Vec<BlindSpot>,
    rows: Vec<BlindSpotRow>,
    list: ListView,
}

/// One row: a blind spot, or a moment of the one above it, by their places.
#[derive(Debug, Clone, Copy)]
enum BlindSpotRow {
    Spot(usize),
    Moment(usize, usize),
}

impl BlindSpotsScreen {
    /// # Errors
    /// The store cannot be read.
    pub fn open(ctx: &Context) -> Result<Self, AppError> {
        let spots = ctx.app.progress().blind_spots()?;
        let rows = spots.iter().enumerate().flat_map(|(i, spot)| {
            let moments = (0..spot.missed.len()).map(move |k| BlindSpotRow::Moment(i, k));
            std::iter::once(BlindSpotRow::Spot(i)).chain(moments)
        });
        Ok(Self {
            rows: rows.collect(),
            spots,
            list: ListView::default(),
        })
    }

    fn act(mut self: Box<Self>, action: Action, ctx: &Context) -> Transition {
        match action {
            Action::Common(CommonAction::Back) => return Transition::Pop,
            Action::Common(CommonAction::Help) => {
                return Transition::Push(self, Route::Help(CONTEXTS));
            }
            Action::Common(CommonAction::Open) => return self.show(ctx),
            Action::List(ListAction::Figures) => return Transition::Push(self, Route::Figures),
            action => self.list.walk(action, self.rows.len()),
        }
        Transition::Stay(self)
    }

    /// A click marks; a click on what is marked opens it.
    fn click(mut self: Box<Self>, target: ClickTarget, ctx: &Context) -> Transition {
        match target {
            ClickTarget::Item(item) if item == self.list.at() => return self.show(ctx),
            ClickTarget::Item(item) if item < self.rows.len() => self.list.go(item),
            _ => {}
        }
        Transition::Stay(self)
    }

    fn moment(&self, row: BlindSpotRow) -> Option<&MissedMoment> {
        match row {
            BlindSpotRow::Spot(_) => None,
            BlindSpotRow::Moment(spot, moment) => self.spots.get(spot)?.missed.get(moment),
        }
    }

    /// The marked moment in its review; on a blind spot the mark goes to its first moment.
    fn show(mut self: Box<Self>, ctx: &Context) -> Transition {
        let marked = self.rows.get(self.list.at()).copied();
        match marked.map(|row| (row, self.moment(row).cloned())) {
            Some((_, Some(missed))) => {
                let request = ReviewRequest {
                    id: missed.id.clone(),
                    label: labels::origin(&ctx.app, &missed.origin),
                    missed: Some(missed),
                };
                Transition::Push(self, Route::PendingReview(request))
            }
            Some((BlindSpotRow::Spot(_), _)) => {
                self.list
                    .walk(Action::Common(CommonAction::Down), self.rows.len());
                Transition::Stay(self)
            }
            _ => Transition::Stay(self),
        }
    }
}

impl Screen for BlindSpotsScreen {
    fn key_contexts(&self) -> &'static [KeyContext] {
        CONTEXTS
    }

    fn handle(self: Box<Self>, input: ScreenInput, ctx: &Context) -> Transition {
        match input {
            ScreenInput::Action(action) => self.act(action, ctx),
            ScreenInput::Click(target) => self.click(target, ctx),
            _ => Transition::Stay(self),
        }
    }

    fn draw(&self, canvas: &mut Canvas, ctx: &Context) {
        let count = match self.spots.len() {
            0 => String::new(),
            n => tr!("{n} found"),
        };
        chrome::title(canvas, tr!("Habits"), &count);
        let width = canvas.width() - 4;
        let told = match self.rows.get(self.list.at()) {
            Some(BlindSpotRow::Spot(spot) | BlindSpotRow::Moment(spot, _)) => self.spots.get(*spot),
            None => None,
        };
        let Some(told) = told else {
            let words = tr!(
                "Not enough yet, or nothing stands out: a habit is told only where you miss one kind \
                         of move more often than your other moves of the same depth."
            );
            let y = canvas.put_wrapped((2, 2, width, 4), words, TextStyle::PLAIN);
            canvas.put(2, y + 1, tr!("g shows all figures."), TextStyle::QUIET);
            return chrome::bar_without(
                canvas,
                KeyContext::BlindSpots,
                &[Action::Common(CommonAction::Open)],
            );
        };
        let y = canvas.put_wrapped((2, 2, width, 3), &told.sentence, TextStyle::PLAIN);
        canvas.put_wrapped((2, y, width, 2), &told.habit, TextStyle::ACCENT);
        let rows = canvas.height().saturating_sub(9);
        let line = |i: usize| self.line(i, ctx);
        self.list
            .draw(canvas, (0, 7, canvas.width(), rows), self.rows.len(), &line);
        chrome::bar(canvas, KeyContext::BlindSpots);
    }
}

impl BlindSpotsScreen {
    fn line(&self, row: usize, ctx: &Context) -> String {
        match self.rows.get(row) {
            Some(BlindSpotRow::Spot(spot)) => {
                let spot = self.spots.get(*spot);
                spot.map_or_else(String::new, |s| format!("{}:", s.words))
            }
            Some(row @ BlindSpotRow::Moment(..)) => {
                self.moment(*row).map_or_else(String::new, |missed| {
                    let date = labels::date(missed.wall_ms, &ctx.display.zone);
                    let place = labels::origin(&ctx.app, &missed.origin);
                    format!("  {date}  {place}: {}", missed.moment.words())
                })
            }
            None => String::new(),
        }
    }
}
