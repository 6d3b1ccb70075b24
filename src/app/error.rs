//! What can go wrong in a use case: the message of the room where it went wrong, unchanged.

use std::path::PathBuf;

use crate::app::maintenance::output::OutputError;
use crate::attempt::FoldError;
use crate::judge::JudgeError;
use crate::playout::GameError;
use crate::store::StoreError;

impl AppError {
    /// Why something cannot be read, without where it lies.
    pub(crate) fn brief(&self) -> String {
        match self {
            Self::Store(error) => error.brief(),
            other => other.to_string(),
        }
    }
}

/// A use case failed. What was kept before is still there.
#[derive(Debug, thiserror::Error)]
pub enum AppError {
    #[error(transparent)]
    Store(#[from] StoreError),
    #[error(transparent)]
    Judge(#[from] JudgeError),
    #[error(transparent)]
    Attempt(#[from] FoldError),
    #[error("{}", tr!("there is no attempt '{0}'; `foreply history` lists them all", _0))]
    NoSuchAttempt(String),
    #[error("{}", tr!("{0} struck this finding, and only he lets it stand again: give his name with --by", _0))]
    RulingOfAnother(String),
    /// Something is wrong with a file of questions or answers.
    #[error("{0}")]
    Work(String),
    #[error("{}", tr!("no homework is left to do; `foreply coach homework` lists what was set"))]
    NoHomework,
    #[error("{}", tr!("there is no locked attempt yet; `foreply` opens a position to begin with"))]
    NothingLocked,
    #[error(
        "{}", tr!("'{text}' fits several: {}; write one of them out", crate::text::list(names)))]
    SeveralAttempts { text: String, names: Vec<String> },
    #[error(transparent)]
    Game(#[from] GameError),
    #[error("{}", tr!("there is no game '{0}'; `foreply playout --list` shows them", _0))]
    NoSuchGame(String),
    #[error("{}", tr!("you made no move {0} in game '{1}'", _0, _1))]
    NoSuchMove(usize, String),
    #[error(
        "{}", tr!("every position of {} was tried or is begun; `foreply quick` shows what is left, `foreply drills add FILE` adds positions", .0.map_or_else(|| "all ladders".to_owned(), |ladder| format!("ladder {ladder}"))))]
    NoQuickLeft(Option<u8>),
    #[error(transparent)]
    Experiment(#[from] crate::progress::experiment::ExperimentError),
    #[error(
        "{}", tr!("an experiment of {0} weeks goes on and cannot be changed: `foreply experiment show`; to give it up: `foreply experiment stop --sure`", _0))]
    ExperimentRuns(u32),
    #[error("{}", tr!("no experiment goes on; `foreply experiment start` draws one"))]
    NoExperiment,
    #[error(
        "{}", tr!("neither White nor Black of the sheet is you; type the head again, as in 'White: Verrick, Ansa', with the name that your games have"))]
    NotOnSheet,
    #[error("{}", tr!("the clock of quick calculation follows what you have solved: it cannot be chosen"))]
    QuickClock,
    #[error("{}", tr!("your time is over: choose the move you would play, and lock the tree"))]
    TimeOver,
    #[error("{}", tr!("there is nothing to play out: it is {0}", _0))]
    NothingToPlay(String),
    #[error(
        "{}", tr!("game '{0}' is not over, so it is not judged; finish it first (`foreply playout --resume {0}`)", _0))]
    GameGoesOn(String),
    #[error("{}", tr!("there is no drill '{0}'; `foreply drills list` shows them", _0))]
    NoSuchDrill(String),
    #[error("{}", tr!("no drill '{0}' was added by you; `foreply drills list --own` shows those that were", _0))]
    NotAdded(String),
    #[error("{}", tr!("the built-in collection is wrong: {0}", _0))]
    Collection(String),
    #[error("{}", tr!("{path}: {why}; mend the file or take it away: everything in it may be left out", path = path.display()))]
    Settings { path: PathBuf, why: String },
    #[error(
        "{}", tr!("--replace names {named}, but the home folder is {home}; name the folder whose entries are to be \
         replaced; nothing was changed", named = named.display(), home = home.display()))]
    OtherHome { named: PathBuf, home: PathBuf },
    #[error("{}", tr!("the line cannot be read: {0}", _0))]
    Line(String),
    #[error("{}", tr!("there is no habit '{0}'; these are: {1}", _0, _1))]
    NoSuchHabit(String, String),
    #[error("{}", tr!("choose the move you would play before you lock the tree"))]
    NoChoice,
    #[error("{}", tr!("the sitting has begun: what is seen of the board is settled"))]
    Begun,
    #[error("{}", tr!("this attempt is not locked yet; go on with it and lock it first"))]
    NotLocked,
    #[error(transparent)]
    File(#[from] std::io::Error),
    #[error(transparent)]
    Output(#[from] OutputError),
    #[error("there are no games of yours yet; add some: foreply games add FILE.pgn --player NAME")]
    NoGames,
    #[error(
        "{}", tr!("{}: no result and dated today, so it may be going on; it is not judged before you say that it is over with `foreply games moments --over` (FIDE Laws of Chess, 11.3: no analysis during play)", crate::text::dates_in(.0)))]
    MayGoOn(String),
    #[error(
        "{}", tr!("{}: no result and dated today, so it may be going on; no notes are taken on it before you say that it is over with `foreply games moments --over` (FIDE Laws of Chess, 11.3)", crate::text::dates_in(.0)))]
    NotesInPlay(String),
    #[error(transparent)]
    Thought(#[from] crate::games::thoughts::ThoughtError),
    #[error(
        "{}", tr!("{}: your own thoughts on it are begun and not locked, and the judge speaks only after them; lock them first: foreply games recall {id} --lock", crate::text::dates_in(.game)))]
    ThoughtsOpen { game: String, id: String },
    #[error(
        "{}", tr!("what you saw at move {0} is begun and not locked: `foreply` offers to go on with it, or to put it aside; then lock", _0))]
    TreeOpen(usize),
    #[error("{}", tr!("your thoughts on this game are not locked; first `foreply games recall {0} --lock`", _0))]
    ThoughtsNotLocked(String),
    #[error("{0}")]
    Prepared(String),
    #[error("{0}")]
    Takeaway(String),
    #[error(
        "{}", tr!("there is no game of '{0}', neither among yours nor in the files given; write his name as the games do", _0))]
    NoGamesOf(String),
    #[error("{}", tr!("the game '{0}' names no event", _0))]
    NoEvent(String),
    #[error("{}", tr!("there is no event '{0}' in your games; `foreply games event --list` shows them", _0))]
    NoSuchEvent(String),
    #[error(
        "{}", tr!("'{text}' fits several events: {}; write one of them out", crate::text::list(names)))]
    SeveralEvents { text: String, names: Vec<String> },
    #[error(
        "{}", tr!("no game of the event '{0}' may be judged yet: they may be going on, or your own thoughts on them are not locked (`foreply games list`)", _0))]
    EventNotJudged(String),
    #[error("{}", tr!("no prepared lines are kept as '{0}'; `foreply games prepare` lists them", _0))]
    NotPrepared(String),
    #[error("{}", tr!("there is no game '{0}' of yours; `foreply games list` shows them", _0))]
    NoSuchOwnGame(String),
    #[error(
        "{}", tr!("'{text}' fits several games: {}; name one of them", crate::text::list(names)))]
    SeveralOwnGames { text: String, names: Vec<String> },
    #[error("{}", tr!("there is no branch {0}; `foreply games openings` numbers them from 1 to {1}", _0, _1))]
    NoSuchBranch(usize, usize),
    #[error("{}", tr!("{0}; the card is as it was", _0))]
    Card(String),
    #[error("{}", tr!("whose games are they? Say it once with --player NAME"))]
    WhoseGames,
    #[error(
        "{}", tr!("the store holds the games of {0}; add those of another player with --home DIR, or this spelling with --also NAME", _0))]
    OtherPlayer(String),
}
