//! The arguments of `foreply playout`.

use std::path::PathBuf;

use clap::ValueEnum;

use crate::cli::args::Page;

/// What stands below the help of `foreply playout`.
pub(crate) const HELP: &str = "\
Examples:
  foreply playout --ladder                 the 24 starting positions, in four steps
  foreply playout saavedra-1895            the position of a drill, at full strength
  foreply playout ladder-09 --level 6 --clock 15+10
  foreply playout --fen '8/8/4k3/8/8/4K3/4P3/8 w - - 0 1' --side black --hold 40
  foreply playout --list                   your games, finished and adjourned
  foreply playout --account last           where the last game slipped, move by move
  foreply playout --again last --from 31   the same from your move 31 on

For training only, never during a game in progress (FIDE Laws of Chess, article 11.3). A coach's
judgement outranks an engine's number.";

#[derive(Debug, clap::Args)]
#[command(group = clap::ArgGroup::new("which").args(["position", "fen", "ladder", "list", "resume", "account", "again"]).required(true))]
pub(crate) struct Playout {
    /// A drill of the collection, by number or name
    #[arg(value_name = "DRILL")]
    pub position: Option<String>,
    /// A position in Forsyth-Edwards Notation
    #[arg(long)]
    pub fen: Option<String>,
    /// Lists the starting positions that were chosen for converting, from easy to hard
    #[arg(long)]
    pub ladder: bool,
    /// Lists your games
    #[arg(long)]
    pub list: bool,
    /// Takes a game up again ('last' for the newest that is not over)
    #[arg(long, value_name = "GAME")]
    pub resume: Option<String>,
    /// Goes through a finished game ('last' for the newest)
    #[arg(long, value_name = "GAME")]
    pub account: Option<String>,
    /// Plays the position of an earlier game again
    #[arg(long, value_name = "GAME")]
    pub again: Option<String>,
    /// With --again: from your move of this number on
    #[arg(long, value_name = "MOVE", requires = "again")]
    pub from: Option<usize>,
    /// Your side [default: the side to move]
    #[arg(long, value_enum)]
    pub side: Option<Colour>,
    /// How strong the opponent is, 1 (a beginner) to 10 (full strength)
    #[arg(long, value_name = "N", default_value_t = 10, value_parser = clap::value_parser!(u8).range(1..=10))]
    pub level: u8,
    /// Minutes for the game and seconds added for each move: 15+10 [default: no clock]
    #[arg(long, value_name = "MIN+SEC")]
    pub clock: Option<String>,
    /// You are the worse side: to draw, or to be still playing after so many moves
    #[arg(long, value_name = "MOVES", value_parser = clap::value_parser!(u32).range(1..=200))]
    pub hold: Option<u32>,
    /// You want to write candidates and lines before every so many moves
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=50))]
    pub write_every: Option<u32>,
    /// Lines of text on standard input and output instead of a screen; so it is where they are no terminal
    #[arg(long)]
    pub plain: bool,
    /// With --account: as what [default: what the name of the file says, else text]
    #[arg(long, value_enum)]
    pub format: Option<Page>,
    /// With --account: writes to a file instead of standard output
    #[arg(long, short, value_name = "FILE", requires = "account")]
    pub output: Option<PathBuf>,
    /// Nodes a search of the account
    #[arg(long, value_name = "N", default_value_t = 200_000, value_parser = clap::value_parser!(u64).range(100..=1_000_000_000))]
    pub nodes: u64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Colour {
    White,
    Black,
}
