//! The arguments, without any side effect of reading them: one file a command.
//!
//! Takes the words of the command line; gives what was asked for, as plain values. Must never know: what a command does
//! with them.

mod backup;
mod coach;
mod collection;
mod drills;
mod engine;
mod experiment;
mod for_programs;
pub(crate) mod form;
mod games;
mod generated;
mod global;
mod history;
mod judge;
mod manual;
mod method;
mod playout;
mod practice;
mod progress;
mod quick;
mod review;
mod schema;
mod setup;
mod translation;

use clap::builder::StyledStr;
use clap::{CommandFactory, FromArgMatches, Parser, Subcommand};

pub(crate) use backup::{Backup, Restore};
pub(crate) use coach::{Coach, Homework, Rule, Send, Take};
pub(crate) use collection::{CollectionTable, HandOut};
pub(crate) use drills::Drills;
pub(crate) use engine::{Engine, EngineCommand};
pub(crate) use experiment::{ExperimentCommand, ShowExperiment, StartExperiment};
pub(crate) use form::{DrillForm, Format, Page, PageTarget};
pub(crate) use games::{
    AddGames, Clock, Event, GameAccount, Games, Judging, ListGames, Moments, Openings, Opponent,
    PlanCard, Prepare, Recall, ScoreSheet, Side,
};
pub(crate) use generated::{Completions, Man};
pub(crate) use global::Global;
pub(crate) use history::History;
pub(crate) use judge::{AnswerWork, GatherWork, JudgeWork, PlanWork};
pub(crate) use method::Method;
pub(crate) use playout::{Colour, Playout};
pub(crate) use practice::{Practice, Sight};
pub(crate) use progress::ProgressPage;
pub(crate) use quick::QuickPage;
pub(crate) use review::Review;
pub(crate) use schema::Schema;
pub(crate) use setup::Setup;
pub(crate) use translation::{CheckTranslation, Template, Translation};

use crate::translation as texts;
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
    /// Calculation at speed: which time you need, half-moves sound in a minute, what speed costs
    #[command(after_help = "Example: foreply practice --quick", after_long_help = quick::QUICK)]
    Quick(QuickPage),
    /// Whether the practice works: an experiment with yourself
    #[command(subcommand, after_long_help = experiment::EXPERIMENT)]
    Experiment(ExperimentCommand),
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
    /// How every figure is made: formula, source, what it takes for granted, what would make it wrong
    #[command(after_help = method::METHOD_EXAMPLE)]
    Method(Method),
    /// The judge's work on many games, for many machines
    #[command(subcommand)]
    Judge(JudgeWork),
    /// Shows the JSON schemas of the formats that programs read
    #[command(after_help = schema::SCHEMA_EXAMPLES)]
    Schema(Schema),
    /// The texts in another language: what a translator begins with, and how far he is
    #[command(subcommand, after_long_help = self::translation::TRANSLATION)]
    Translation(Translation),
    /// Speaks UCI on standard input and output
    Engine(Engine),
}

/// Below the help of every command that says nothing of its own.
const EXITS: &str = tr_later!(
    "Exit codes: 0 done, 1 bad input, 2 wrong usage, 3 engine, 4 store, 70 an error in the program itself."
);

impl Args {
    /// The arguments of the process, or what is to be printed instead.
    pub(crate) fn of_process() -> Result<Self, clap::Error> {
        let matches = Self::described().try_get_matches()?;
        Self::from_arg_matches(&matches).map_err(|e| e.format(&mut Self::described()))
    }

    /// The command line with its texts as they stand in the sources.
    #[cfg(test)]
    pub(crate) fn plain() -> clap::Command {
        Self::command()
    }

    /// The whole command line as help, completions and manual pages show it.
    pub(crate) fn described() -> clap::Command {
        in_translation(with_exits(Self::command()))
    }
}

/// The command with its exit codes below its help, and so all below it.
fn with_exits(command: clap::Command) -> clap::Command {
    let exits = texts::text(EXITS);
    let said = |words: &StyledStr| {
        let english = words.to_string();
        let words = texts::found(&english).unwrap_or(&english);
        match english.contains("Exit codes:") {
            true => words.to_owned(),
            false => format!("{words}\n\n{exits}"),
        }
    };
    let short = command.get_after_help().map_or(exits.to_owned(), said);
    let long = command.get_after_long_help().map(said);
    let command = command.after_help(short).mut_subcommands(with_exits);
    match long {
        Some(long) => command.after_long_help(long),
        None => command,
    }
}

/// The command with its help, and so all below it, in the language of this run.
fn in_translation(command: clap::Command) -> clap::Command {
    let words = |english: Option<&StyledStr>| texts::found(&english?.to_string());
    let about = words(command.get_about());
    let long = words(command.get_long_about());
    let mut command = command.mut_subcommands(in_translation).mut_args(|arg| {
        let help = words(arg.get_help());
        let long = words(arg.get_long_help());
        let heading = arg.get_help_heading().and_then(texts::found);
        let mut arg = arg;
        if let Some(help) = help {
            arg = arg.help(help);
        }
        if let Some(long) = long {
            arg = arg.long_help(long);
        }
        match heading {
            Some(heading) => arg.help_heading(heading),
            None => arg,
        }
    });
    if let Some(about) = about {
        command = command.about(about);
    }
    match long {
        Some(long) => command.long_about(long),
        None => command,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn every(command: &clap::Command, seen: &mut dyn FnMut(&clap::Command)) {
        seen(command);
        command.get_subcommands().for_each(|sub| every(sub, seen));
    }

    #[test]
    fn every_command_lists_its_exits_once() {
        let mut number = 0;
        every(&Args::described(), &mut |command| {
            number += 1;
            let mut command = command.clone();
            for help in [command.render_help(), command.render_long_help()] {
                let help = help.to_string();
                assert_eq!(help.matches("Exit codes:").count(), 1, "{help}");
            }
        });
        assert!(number > 25, "{number}");
        Args::described().debug_assert();
    }
}
