//! What the home screen lists, and how each is told.

use crate::app::{
    AttemptId, GameId, GameSummary, HistoryEntry, HomeworkTask, OpenSitting, QuickOffer,
    Recommendation as Offer,
};
use crate::attempt::Origin;
use crate::text;
use crate::tui::labels;
use crate::tui::nav::context::Context;

/// One thing to open, in the order of the list.
pub(super) enum HomeItem {
    /// A sitting that was begun and not locked.
    Begun(OpenSitting),
    /// A game against the engine that was adjourned.
    Game(GameId, GameSummary),
    /// A score sheet that was begun: its entries.
    Sheet(usize),
    /// A position that a coach set and that is not done.
    Homework(Box<HomeworkTask>),
    /// What fits the minutes at hand, in the order in which it is to be practised.
    Now(Offer),
    /// The next position at speed.
    Quick(QuickOffer),
    /// All positions.
    All,
}

impl HomeItem {
    pub(super) fn is_begun(&self) -> bool {
        matches!(self, Self::Begun(_) | Self::Game(..) | Self::Sheet(_))
    }

    pub(super) fn is_now(&self) -> bool {
        matches!(self, Self::Now(_))
    }

    /// What stands above the first of its kind.
    pub(super) fn head(&self, eve: bool) -> &'static str {
        match self {
            Self::Begun(_) | Self::Game(..) | Self::Sheet(_) => tr!("Begun"),
            Self::Homework(_) => tr!("Homework"),
            Self::Now(_) if eve => tr!("Solved before"),
            Self::Now(_) => tr!("To practise now"),
            Self::Quick(_) => tr!("Quick calculation"),
            Self::All => tr!("The whole collection"),
        }
    }

    pub(super) fn line(&self, ctx: &Context, tried: usize) -> String {
        match self {
            Self::Begun(begun) => {
                let label = labels::origin(&ctx.app, &begun.origin);
                let used = text::clock(begun.used_ms);
                tr!("go on: {label}, {}, {used}", moves(begun.moves))
            }
            Self::Game(_, game) => {
                let label = labels::origin(&ctx.app, &game.origin);
                tr!("go on: {label} played out, {}", moves(game.moves))
            }
            Self::Sheet(entries) => tr!("go on: a score sheet, {}", moves(entries.div_ceil(2))),
            Self::Now(offer) => match ctx.app.drills().find(&offer.drill) {
                Ok((_, drill)) => labels::drill(&ctx.app, drill),
                Err(error) => error.to_string(),
            },
            Self::Homework(task) => labels::homework(&ctx.app, task, &ctx.display.zone),
            Self::Quick(offer) => {
                let clock = text::clock(offer.clock_ms);
                match (offer.solved.part, offer.solved.of) {
                    (_, 0) => tr!("a position in {clock}"),
                    (part, of) => tr!("a position in {clock}; solved so far {part} of {of}"),
                }
            }
            Self::All => {
                let n = ctx.app.drills().all().len();
                let positions = tr!(n; "{n} position" | "{n} positions");
                tr!("{positions}, {tried} tried")
            }
        }
    }
}

fn moves(n: usize) -> String {
    tr!(n; "{n} move" | "{n} moves")
}

/// Number of drills that were locked at least once.
pub(super) fn tried(ctx: &Context, history: &[(AttemptId, HistoryEntry)]) -> usize {
    let origins = history.iter().filter_map(|(_, s)| match &s.origin {
        Origin::Drill(id) => Some(id.as_str()),
        _ => None,
    });
    let tried: std::collections::HashSet<&str> = origins.collect();
    let drills = ctx.app.drills().all().iter();
    drills.filter(|d| tried.contains(d.id.as_str())).count()
}
