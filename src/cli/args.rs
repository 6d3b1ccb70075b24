//! The arguments, without any side effect of reading them.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};
use directories::ProjectDirs;

use super::Failure;
use crate::app::Config;

/// What stands below every help page.
const FAIR_PLAY: &str = "\
For training only, never during a game in progress: the FIDE Laws of Chess (article 11.3) and the
fair-play rules of every event forbid it. A coach's judgement outranks an engine's number.";

/// Write your calculation down before you move, and see exactly where it and the truth part.
///
/// Without a command it opens the screens on what to practise now.
#[derive(Debug, Parser)]
#[command(name = "foreply", version, after_help = FAIR_PLAY, disable_help_subcommand = true)]
pub(super) struct Args {
    #[command(flatten)]
    pub global: Global,
    #[command(subcommand)]
    pub command: Option<Command>,
}

#[derive(Debug, Clone, clap::Args)]
pub(super) struct Global {
    /// Folder for everything that is kept [default: the platform's data folder]
    #[arg(long, global = true, value_name = "DIR")]
    pub home: Option<PathBuf>,
    /// A UCI engine to judge with, program and arguments [default: the embedded one]
    #[arg(long, global = true, value_name = "CMD")]
    pub engine: Option<String>,
    /// A folder of Syzygy endgame tables, which outrank the engine
    #[arg(long, global = true, value_name = "DIR")]
    pub tables: Option<PathBuf>,
    /// Engines that work side by side [default: one for each core]
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=64))]
    pub jobs: Option<u16>,
    /// No progress and no notices
    #[arg(long, short, global = true)]
    pub quiet: bool,
    /// Pieces as letters and nothing but ASCII on the screens
    #[arg(long, global = true)]
    pub ascii: bool,
}

impl Global {
    /// What the application is opened with.
    pub(super) fn config(&self) -> Result<Config, Failure> {
        let mut config = Config::new(self.home()?);
        config.engine.clone_from(&self.engine);
        config.tables.clone_from(&self.tables);
        config.jobs = self.jobs.map(usize::from);
        Ok(config)
    }

    fn home(&self) -> Result<PathBuf, Failure> {
        let platform =
            || ProjectDirs::from("", "", "foreply").map(|dirs| dirs.data_dir().to_owned());
        let home = self.home.clone().or_else(platform);
        home.ok_or_else(|| {
            Failure::store("this platform names no folder for data; give one with --home DIR")
        })
    }

    /// Notices on standard error.
    pub(super) fn tell(&self, notices: &[String]) {
        for notice in notices.iter().filter(|_| !self.quiet) {
            eprintln!("foreply: {}", crate::text::safe(notice));
        }
    }
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Opens the screens on one position
    #[command(after_help = FAIR_PLAY)]
    Practice(Practice),
    /// Compares written variations with the truth
    #[command(after_help = FAIR_PLAY)]
    Review(Review),
    /// Your own games: from PGN to the moments worth calculating
    #[command(subcommand, after_help = FAIR_PLAY)]
    Games(Games),
    /// The positions to practise with
    #[command(subcommand)]
    Drills(Drills),
    /// Speaks UCI on standard input and output
    Engine(Engine),
}

#[derive(Debug, clap::Args)]
pub(super) struct Practice {
    /// A drill of the collection, by number or name
    #[arg(conflicts_with = "fen")]
    pub drill: Option<String>,
    /// A position in Forsyth-Edwards Notation
    #[arg(long)]
    pub fen: Option<String>,
    /// Thinking time, 1 to 120 [default: the drill's own]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=120))]
    pub minutes: Option<u32>,
    /// What of the board is seen while writing
    #[arg(long, value_enum, default_value_t = Sight::Root)]
    pub sight: Sight,
    /// Seconds in which the position is only looked at; without sight the board is hidden after them
    #[arg(long, value_name = "SECONDS", value_parser = clap::value_parser!(u32).range(1..=600))]
    pub look: Option<u32>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Sight {
    /// The board stays at the position
    Root,
    /// The board follows the written moves
    Follow,
    /// The board is hidden while writing
    None,
}

#[derive(Debug, clap::Args)]
pub(super) struct Review {
    /// A PGN file of games with variations ('-' for standard input), the name of an attempt, or 'last'
    pub what: String,
    /// A line of your own to hold against the review of an attempt; it is answered by a line
    #[arg(long, value_name = "LINE")]
    pub answer: Option<String>,
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Writes to a file instead of standard output
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Nodes a search
    #[arg(long, value_name = "N", default_value_t = 200_000, value_parser = clap::value_parser!(u64).range(100..=1_000_000_000))]
    pub nodes: u64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    Text,
    Json,
}

#[derive(Debug, Subcommand)]
pub(super) enum Drills {
    /// Lists the collection, without anything that gives a solution away
    List,
    /// Shows one drill, by number or name, with its published solution
    Show { drill: String },
    /// Proves every drill of a file, or of the built-in collection: legal, and the judge agrees
    Check {
        file: Option<PathBuf>,
        /// Nodes a search
        #[arg(long, value_name = "N", default_value_t = 1_000_000, value_parser = clap::value_parser!(u64).range(100..=1_000_000_000))]
        nodes: u64,
    },
}

#[derive(Debug, Subcommand)]
pub(super) enum Games {
    /// Adds your games of a PGN file; the same game twice is one game
    #[command(after_help = "Example: foreply games add season.pgn --player \"Verrick, Ansa\"")]
    Add(AddGames),
}

#[derive(Debug, clap::Args)]
pub(super) struct AddGames {
    /// A PGN file ('-' for standard input)
    pub file: PathBuf,
    /// Your name, in any order of its parts [default: the one given first]
    #[arg(long, value_name = "NAME")]
    pub player: Option<String>,
    /// Another way in which the file writes your name
    #[arg(long, value_name = "NAME")]
    pub also: Vec<String>,
    /// A name that looks like yours and is somebody else's
    #[arg(long, value_name = "NAME")]
    pub not: Vec<String>,
}

#[derive(Debug, clap::Args)]
pub(super) struct Engine {
    #[command(subcommand)]
    pub command: Option<EngineCommand>,
}

#[derive(Debug, Subcommand)]
pub(super) enum EngineCommand {
    /// Searches fixed positions to a fixed depth; the node count is the search's fingerprint
    Bench {
        /// Depth, 1 to 30 [default: the one quoted in the project's history]
        #[arg(value_parser = clap::value_parser!(i32).range(1..=30))]
        depth: Option<i32>,
    },
    /// Plays games against itself and keeps their quiet positions with the results
    Selfplay {
        /// File to write
        file: PathBuf,
        #[arg(long, default_value_t = 1000)]
        games: u64,
        /// Nodes a move
        #[arg(long, default_value_t = 5000)]
        nodes: u64,
        /// Number of the first game: each number is another opening
        #[arg(long, default_value_t = 0)]
        first: u64,
        #[arg(long, default_value_t = 1)]
        threads: usize,
    },
    /// Fits the weights of the evaluation to kept positions and writes them as source text
    Tune {
        /// Source file to write
        output: PathBuf,
        /// Files of kept positions
        #[arg(required = true)]
        files: Vec<PathBuf>,
        #[arg(long, default_value_t = 100)]
        epochs: usize,
        #[arg(long, default_value_t = 1)]
        threads: usize,
    },
    /// Compares expected scores with results on kept positions, tenth by tenth
    Calibrate {
        /// Files of kept positions
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// Takes every Nth position
        #[arg(long, default_value_t = 50)]
        stride: usize,
        /// Nodes a search
        #[arg(long, default_value_t = 20_000)]
        nodes: u64,
        #[arg(long, default_value_t = 1)]
        threads: usize,
    },
}
