//! Where to go, as data: the router alone makes a screen of it.

use crate::app::{AttemptId, GameId, MissedMoment, PlayoutSession, Subject};
use crate::attempt::Attempt;
use crate::tui::input::bindings::KeyContext;
use crate::tui::nav::sessions::{LockedAttempt, OpenAttempt};
use crate::tui::widgets::chrome::Notice;

/// A screen that is asked for, with what goes on there.
pub enum Route {
    Home(Option<Notice>),
    Drills,
    History,
    BlindSpots,
    /// What all attempts say together.
    Figures,
    /// What calculation at speed comes to.
    Quick,
    /// A new attempt, on its first look.
    Preview(Box<Subject>),
    Writing(Box<OpenAttempt>),
    Pause(Box<OpenAttempt>),
    Commit(Box<OpenAttempt>),
    Locked(Box<LockedAttempt>),
    SecondLook(Box<LockedAttempt>),
    /// The review, waited for.
    PendingReview(ReviewRequest),
    /// The review, as far as it is known.
    Review(ReviewRequest, Box<Attempt>),
    /// A new game from a position.
    NewGame(Box<Subject>),
    /// A game that was adjourned.
    ResumedGame(GameId),
    Game(Box<PlayoutSession>),
    GameAccount(Box<PlayoutSession>),
    /// All own games.
    OwnGames,
    /// A score sheet that is typed.
    Sheet,
    /// His own thoughts on an own game, by its identifier, to be written.
    Recall(String),
    /// The account of an own game, by its identifier.
    OwnGameAccount(String),
    /// A page on an own game.
    OwnGamePage(OwnPage),
    Help(&'static [KeyContext]),
}

/// What a page on own games is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OwnPage {
    /// His locked thoughts on a game, by its identifier, beside the game.
    Thoughts(String),
    /// The event with a game of this identifier.
    Event(String),
    /// What the games of an opponent say, by his name.
    Opponent(String),
}

/// Whose review, and where it opens.
#[derive(Debug, Clone)]
pub struct ReviewRequest {
    pub id: AttemptId,
    pub label: String,
    /// It opens at this moment.
    pub missed: Option<MissedMoment>,
}

impl ReviewRequest {
    /// The review from its first finding on.
    #[must_use]
    pub fn of(id: AttemptId, label: String) -> Self {
        Self {
            id,
            label,
            missed: None,
        }
    }
}
