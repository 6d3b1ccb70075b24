//! The arguments, without any side effect of reading them: one file a command.
//!
//! Takes the words of the command line; gives what was asked for, as plain values. Must never know: what a command does
//! with them.

mod backup;
mod coach;
mod drills;
mod engine;
mod games;
mod generated;
mod global;
mod history;
mod manual;
mod playout;
mod practice;
mod progress;
mod review;
mod setup;

use clap::{Parser, Subcommand};

pub(crate) use backup::{Backup, Restore};
pub(crate) use coach::{Coach, Send, Take};
pub(crate) use drills::Drills;
pub(crate) use engine::{Engine, EngineCommand};
pub(crate) use games::{
    AddGames, Clock, Event, GameAccount, Games, Judging, ListGames, Moments, Openings, Opponent,
    PlanCard, Prepare, Recall, ScoreSheet, Side,
};
pub(crate) use generated::{Completions, Man};
pub(crate) use global::{Format, Global, Page};
pub(crate) use history::History;
pub(crate) use playout::{Colour, Playout};
pub(crate) use practice::{Practice, Sight};
pub(crate) use progress::ProgressPage;
pub(crate) use review::{Form, Review};
pub(crate) use setup::Setup;

use global::FAIR_PLAY;

/// Write your calculation down before you move, and see exactly where it and the truth part.
///
/// Without a command it opens the screens on what to practise now.
#[derive(Debug, Parser)]
#[command(name = "foreply", version, after_help = FAIR_PLAY, disable_help_subcommand = true)]
pub(crate) struct Args {
    #[command(flatten, next_help_heading = "General options")]
    pub global: Global,
    #[command(subcommand)]
    pub command: Option<Command>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Opens the screens on one position
    #[command(after_help = practice::PRACTICE_EXAMPLES)]
    Practice(Practice),
    /// Compares written variations with the truth
    #[command(after_help = FAIR_PLAY, after_long_help = manual::REVIEW)]
    Review(Review),
    /// Your own games: from PGN to the moments worth calculating
    #[command(subcommand, after_help = FAIR_PLAY, after_long_help = manual::GAMES)]
    Games(Games),
    /// Lists what was written and played out, with the names that other commands take
    #[command(after_help = history::HISTORY_EXAMPLES)]
    History(History),
    /// Plays a position out against the engine, and shows where it slipped
    #[command(after_help = playout::HELP)]
    Playout(Playout),
    /// What many attempts say together: what you miss, how you judge, whether it changes
    #[command(after_help = "\
Example: foreply progress --format html -o progress.html
A plan:  foreply progress --sittings 3 --habit replies-that-give-up", after_long_help = manual::PROGRESS)]
    Progress(ProgressPage),
    /// The positions to practise with
    #[command(subcommand)]
    Drills(Drills),
    /// Writes everything that is kept to one file
    #[command(after_help = backup::BACKUP_EXAMPLE)]
    Backup(Backup),
    /// Puts a backup into the home folder
    #[command(after_help = backup::RESTORE_EXAMPLE)]
    Restore(Restore),
    /// Shows what was found on this machine, and what to mend
    #[command(after_help = setup::SETUP_EXAMPLE)]
    Setup(Setup),
    /// Written variations out to a coach, and his answer back in
    #[command(subcommand, after_long_help = manual::COACH)]
    Coach(Coach),
    /// Writes the completions of a shell to standard output
    #[command(after_help = generated::COMPLETIONS_EXAMPLES)]
    Completions(Completions),
    /// Writes the manual pages into a folder
    #[command(after_help = generated::MAN_EXAMPLE)]
    Man(Man),
    /// Speaks UCI on standard input and output
    Engine(Engine),
}
