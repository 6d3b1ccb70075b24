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
    #[error("there is no attempt '{0}'; `foreply history` lists them all")]
    NoSuchAttempt(String),
    #[error("{0} struck this finding, and only he lets it stand again: give his name with --by")]
    RulingOfAnother(String),
    /// Something is wrong with a file of questions or answers.
    #[error("{0}")]
    Work(String),
    #[error("no homework is left to do; `foreply coach homework` lists what was set")]
    NoHomework,
    #[error("there is no locked attempt yet; `foreply` opens a position to begin with")]
    NothingLocked,
    #[error(
        "'{text}' fits several: {}; write one of them out",
        crate::text::list(names)
    )]
    SeveralAttempts { text: String, names: Vec<String> },
    #[error(transparent)]
    Game(#[from] GameError),
    #[error("there is no game '{0}'; `foreply playout --list` shows them")]
    NoSuchGame(String),
    #[error("you made no move {0} in game '{1}'")]
    NoSuchMove(usize, String),
    #[error(
        "every position of {} was tried or is begun; `foreply quick` shows what is left, `foreply drills add FILE` adds positions",
        .0.map_or_else(|| "all ladders".to_owned(), |ladder| format!("ladder {ladder}"))
    )]
    NoQuickLeft(Option<u8>),
    #[error(transparent)]
    Experiment(#[from] crate::progress::experiment::ExperimentError),
    #[error(
        "an experiment of {0} weeks goes on and cannot be changed: `foreply experiment show`; to give it up: `foreply experiment stop --sure`"
    )]
    ExperimentRuns(u32),
    #[error("no experiment goes on; `foreply experiment start` draws one")]
    NoExperiment,
    #[error(
        "neither White nor Black of the sheet is you; type the head again, as in 'White: Verrick, Ansa', with the name that your games have"
    )]
    NotOnSheet,
    #[error("the clock of quick calculation follows what you have solved: it cannot be chosen")]
    QuickClock,
    #[error("your time is over: choose the move you would play, and lock the tree")]
    TimeOver,
    #[error("there is nothing to play out: it is {0}")]
    NothingToPlay(String),
    #[error(
        "game '{0}' is not over, so it is not judged; finish it first (`foreply playout --resume {0}`)"
    )]
    GameGoesOn(String),
    #[error("there is no drill '{0}'; `foreply drills list` shows them")]
    NoSuchDrill(String),
    #[error("no drill '{0}' was added by you; `foreply drills list --own` shows those that were")]
    NotAdded(String),
    #[error("the built-in collection is wrong: {0}")]
    Collection(String),
    #[error("{path}: {why}; mend the file or take it away: everything in it may be left out")]
    Settings { path: PathBuf, why: String },
    #[error(
        "--replace names {named}, but the home folder is {home}; name the folder whose entries are to be \
         replaced; nothing was changed"
    )]
    OtherHome { named: PathBuf, home: PathBuf },
    #[error("the line cannot be read: {0}")]
    Line(String),
    #[error("there is no habit '{0}'; these are: {1}")]
    NoSuchHabit(String, String),
    #[error("choose the move you would play before you lock the tree")]
    NoChoice,
    #[error("the sitting has begun: what is seen of the board is settled")]
    Begun,
    #[error("this attempt is not locked yet; go on with it and lock it first")]
    NotLocked,
    #[error(transparent)]
    File(#[from] std::io::Error),
    #[error(transparent)]
    Output(#[from] OutputError),
    #[error("there are no games of yours yet; add some: foreply games add FILE.pgn --player NAME")]
    NoGames,
    #[error(
        "{}: no result and dated today, so it may be going on; it is not judged before you say that it is over with `foreply games moments --over` (FIDE Laws of Chess, 11.3: no analysis during play)",
        crate::text::dates_in(.0)
    )]
    MayGoOn(String),
    #[error(
        "{}: no result and dated today, so it may be going on; no notes are taken on it before you say that it is over with `foreply games moments --over` (FIDE Laws of Chess, 11.3)",
        crate::text::dates_in(.0)
    )]
    NotesInPlay(String),
    #[error(transparent)]
    Thought(#[from] crate::games::thoughts::ThoughtError),
    #[error(
        "{}: your own thoughts on it are begun and not locked, and the judge speaks only after them; lock them first: foreply games recall {id} --lock",
        crate::text::dates_in(.game)
    )]
    ThoughtsOpen { game: String, id: String },
    #[error(
        "what you saw at move {0} is begun and not locked: `foreply` offers to go on with it, or to put it aside; then lock"
    )]
    TreeOpen(usize),
    #[error("your thoughts on this game are not locked; first `foreply games recall {0} --lock`")]
    ThoughtsNotLocked(String),
    #[error("{0}")]
    Prepared(String),
    #[error("{0}")]
    Takeaway(String),
    #[error(
        "there is no game of '{0}', neither among yours nor in the files given; write his name as the games do"
    )]
    NoGamesOf(String),
    #[error("the game '{0}' names no event")]
    NoEvent(String),
    #[error("there is no event '{0}' in your games; `foreply games event --list` shows them")]
    NoSuchEvent(String),
    #[error(
        "'{text}' fits several events: {}; write one of them out",
        crate::text::list(names)
    )]
    SeveralEvents { text: String, names: Vec<String> },
    #[error(
        "no game of the event '{0}' may be judged yet: they may be going on, or your own thoughts on them are not locked (`foreply games list`)"
    )]
    EventNotJudged(String),
    #[error("no prepared lines are kept as '{0}'; `foreply games prepare` lists them")]
    NotPrepared(String),
    #[error("there is no game '{0}' of yours; `foreply games list` shows them")]
    NoSuchOwnGame(String),
    #[error(
        "'{text}' fits several games: {}; name one of them",
        crate::text::list(names)
    )]
    SeveralOwnGames { text: String, names: Vec<String> },
    #[error("there is no branch {0}; `foreply games openings` numbers them from 1 to {1}")]
    NoSuchBranch(usize, usize),
    #[error("{0}; the card is as it was")]
    Card(String),
    #[error("whose games are they? Say it once with --player NAME")]
    WhoseGames,
    #[error(
        "the store holds the games of {0}; add those of another player with --home DIR, or this spelling with --also NAME"
    )]
    OtherPlayer(String),
}
