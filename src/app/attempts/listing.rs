//! The history as a list to read and to choose from: what, when, from where, what came of it.

use crate::app::attempts::records::{AttemptId, HistoryEntry};
use crate::app::attempts::service::AttemptService;
use crate::app::attempts::short_name::ShortNames;
use crate::app::projections::AttemptIndex;
use crate::app::{AppError, GameId, GameSummary};
use crate::attempt::Origin;
use crate::drill::is_of_own_game;

/// What is asked for; each part that is `None` lets everything through.
#[derive(Debug, Clone, Default)]
pub struct HistoryFilter {
    /// Opened at this time or later, milliseconds since 1970-01-01 UTC.
    pub from_ms: Option<i64>,
    /// Opened before this time.
    pub before_ms: Option<i64>,
    /// Words that the description holds, in any case: an opponent, an event.
    pub words: Option<String>,
    pub kind: Option<HistoryKind>,
    /// A kind of finding that the review counted, by its code.
    pub finding: Option<String>,
    /// Only what has not been reviewed.
    pub unreviewed: bool,
}

/// From where an entry comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HistoryKind {
    /// A position of the collection, or one that was added.
    Drill,
    /// A position of an own game.
    Game,
    /// A position given by hand.
    Position,
    /// A position that a coach set as homework.
    Homework,
    /// Notes in a PGN file.
    Notes,
    /// A position in a game that was played out.
    InPlayout,
    /// A game that was played out.
    Playout,
}

impl HistoryKind {
    /// The name that programs read.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Drill => "drill",
            Self::Game => "game",
            Self::Position => "position",
            Self::Homework => "homework",
            Self::Notes => "notes",
            Self::InPlayout => "in-playout",
            Self::Playout => "playout",
        }
    }

    /// The kind of an attempt.
    #[must_use]
    pub fn of(origin: &Origin) -> Self {
        match origin {
            Origin::Drill(id) if is_of_own_game(id) => Self::Game,
            Origin::Drill(_) => Self::Drill,
            Origin::Position => Self::Position,
            Origin::Homework { .. } => Self::Homework,
            Origin::Playout { .. } => Self::InPlayout,
            Origin::Notes(_) => Self::Notes,
        }
    }
}

/// One line of the history.
#[derive(Debug, Clone, PartialEq)]
pub struct Listed {
    /// The short name, which every command takes.
    pub name: String,
    /// The whole name.
    pub id: String,
    pub kind: HistoryKind,
    /// From where, in words; may come from a file.
    pub place: String,
    pub what: ListedWhat,
}

/// The record behind it.
#[derive(Debug, Clone, PartialEq)]
pub enum ListedWhat {
    Attempt(HistoryEntry),
    Playout(GameSummary),
}

impl Listed {
    /// When it was opened, milliseconds since 1970-01-01 UTC.
    #[must_use]
    pub const fn wall_ms(&self) -> i64 {
        match &self.what {
            ListedWhat::Attempt(entry) => entry.wall_ms,
            ListedWhat::Playout(game) => game.wall_ms,
        }
    }

    fn passes(&self, filter: &HistoryFilter) -> bool {
        let at = self.wall_ms();
        let words = filter.words.as_ref().is_none_or(|words| {
            let place = self.place.to_lowercase();
            let mut words = words.split_whitespace();
            words.all(|word| place.contains(&word.to_lowercase()))
        });
        let reviewed = match &self.what {
            ListedWhat::Attempt(entry) => entry.reviewed.as_ref(),
            ListedWhat::Playout(_) => None,
        };
        let finding = filter.finding.as_ref().is_none_or(|code| {
            reviewed.is_some_and(|r| r.kinds.iter().any(|kind| kind.code() == code))
        });
        let waits = matches!(self.what, ListedWhat::Attempt(_)) && reviewed.is_none();
        words
            && finding
            && filter.from_ms.is_none_or(|from| at >= from)
            && filter.before_ms.is_none_or(|before| at < before)
            && filter.kind.is_none_or(|kind| kind == self.kind)
            && (!filter.unreviewed || waits)
    }
}

impl AttemptService {
    /// The short names of all locked attempts and of all games that were played out.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn short_names(&self) -> Result<ShortNames, AppError> {
        Ok(short_names(&*self.repository.index()?))
    }

    /// The attempt that is meant: 'last', its short name or a beginning of it, or its whole name.
    ///
    /// # Errors
    /// There is none, or there are several; the store cannot be read.
    pub fn named(&self, text: &str) -> Result<AttemptId, AppError> {
        if text == "last" {
            let newest = self.history()?.into_iter().next();
            return newest.map(|(id, _)| id).ok_or(AppError::NothingLocked);
        }
        let index = self.repository.index()?;
        let id = one_of(&short_names(&index), text, |name| {
            index.history.contains_key(name)
        })?;
        Ok(AttemptId(id))
    }

    /// The game played out that is meant, by its short name, a beginning of it, or its whole name.
    ///
    /// # Errors
    /// There are several; the store cannot be read.
    pub fn named_game(&self, text: &str) -> Result<GameId, AppError> {
        let index = self.repository.index()?;
        let id = one_of(&short_names(&index), text, |name| {
            index.games.contains_key(name)
        })?;
        Ok(GameId(id))
    }

    /// Locked attempts and games played out, the newest first, as far as the filter lets them through.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn listed(&self, filter: &HistoryFilter) -> Result<Vec<Listed>, AppError> {
        let index = self.repository.index()?;
        let names = short_names(&index);
        let attempts = self.history()?.into_iter().map(|(id, entry)| Listed {
            name: names.shown(&id.0).to_owned(),
            kind: HistoryKind::of(&entry.origin),
            place: self.place(&entry.origin),
            what: ListedWhat::Attempt(entry),
            id: id.0,
        });
        let games = index.games.iter().map(|(id, game)| Listed {
            name: names.shown(id).to_owned(),
            kind: HistoryKind::Playout,
            place: self.place(&game.origin),
            what: ListedWhat::Playout(game.clone()),
            id: GameId(id.clone()).0,
        });
        let all = attempts.chain(games);
        let mut all: Vec<Listed> = all.filter(|l| l.passes(filter)).collect();
        all.sort_by_key(|listed| std::cmp::Reverse(listed.wall_ms()));
        Ok(all)
    }

    /// From where, in words: of an own game the players, the event and the move; of the collection the number, never a
    /// name that tells what is in it, since the position may come again.
    #[must_use]
    pub fn place(&self, origin: &Origin) -> String {
        match origin {
            Origin::Drill(id) => match self.drills.find(id) {
                Ok((_, drill)) if is_of_own_game(id) => drill.source.clone(),
                Ok((number, _)) => tr!("Position {number}"),
                Err(_) if is_of_own_game(id) => tr!("A position of an own game").to_owned(),
                Err(_) => tr!("A position no longer in the collection").to_owned(),
            },
            Origin::Position => tr!("Own position").to_owned(),
            Origin::Homework { by } => tr!("Homework from {by}"),
            Origin::Playout { ply, .. } => {
                tr!("Played out, after {}", half_moves(*ply))
            }
            Origin::Notes(words) => words.clone(),
        }
    }
}

pub(crate) fn short_names(index: &AttemptIndex) -> ShortNames {
    let attempts = index.history.keys().map(String::as_str);
    let games = index.games.keys().map(String::as_str);
    ShortNames::of(attempts.chain(games))
}

/// The one name of this kind that is meant; what is meant by none is given back: it is not locked, or not there, and
/// whoever looks it up says which.
fn one_of(
    names: &ShortNames,
    text: &str,
    is_one: impl Fn(&str) -> bool,
) -> Result<String, AppError> {
    let mut found = names.find(text);
    found.retain(|name| is_one(name));
    match found[..] {
        [] => Ok(text.to_owned()),
        [one] => Ok(one.to_owned()),
        _ => Err(AppError::SeveralAttempts {
            text: text.to_owned(),
            names: found.iter().map(|n| names.shown(n).to_owned()).collect(),
        }),
    }
}

fn half_moves(n: usize) -> String {
    tr!(n; "{} half-move" | "{} half-moves", crate::text::number(n))
}
