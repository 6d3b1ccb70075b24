//! The arguments of `foreply engine`.

use std::path::PathBuf;

use clap::Subcommand;

#[derive(Debug, clap::Args)]
pub(crate) struct Engine {
    #[command(subcommand)]
    pub command: Option<EngineCommand>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum EngineCommand {
    /// Searches fixed positions to a fixed depth; the node count is the search's fingerprint
    Bench {
        /// Depth, 1 to 30 [default: the one quoted in the project's history]
        #[arg(value_parser = clap::value_parser!(i32).range(1..=30))]
        depth: Option<i32>,
    },
    /// Plays games against itself and keeps their positions with scores and results
    ///
    /// A file with games of an earlier run goes on where that ended.
    Selfplay {
        /// File to write or to go on with
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
        /// Begins no game after so many minutes
        #[arg(long)]
        minutes: Option<u64>,
    },
    /// Fits expected scores to results of games, and tells tenth by tenth how it holds on games not seen
    ///
    /// Games of people with both ratings (PGN) are searched, and the difference of the ratings is a term of the fit: what is
    /// left is between equals.
    Calibrate {
        /// Files of kept positions, or of games (PGN)
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// Takes every Nth position
        #[arg(long, default_value_t = 1)]
        stride: usize,
        /// Searches every position anew with so many nodes [default: the scores of the games; of PGN 100000]
        #[arg(long)]
        nodes: Option<u64>,
        #[arg(long, default_value_t = 1)]
        threads: usize,
        /// Source file to write the curve to (src/engine/fitted.rs)
        #[arg(long, value_name = "FILE")]
        write: Option<PathBuf>,
    },
}
