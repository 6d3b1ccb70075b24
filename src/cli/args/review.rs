//! The arguments of `foreply review`.

use std::path::PathBuf;

use super::form::Page;

#[derive(Debug, Clone, clap::Args)]
pub(crate) struct Review {
    /// A PGN file of games with variations ('-' for standard input), a folder of such files, the name of an
    /// attempt, or 'last'
    pub what: String,
    /// Only a table: a row for each student, with what was missed and how deep was calculated
    #[arg(long, conflicts_with = "answer")]
    pub table: bool,
    /// A PGN file of a coach's own variations; what he wanted to be seen is held against what was written
    #[arg(long, value_name = "FILE", conflicts_with = "answer")]
    pub model: Option<PathBuf>,
    /// The games of today in the file that have no result are over
    #[arg(long)]
    pub over: bool,
    /// The variations are yours: each is kept as an attempt written from memory, and counted apart
    #[arg(long, conflicts_with = "answer")]
    pub mine: bool,
    /// A line of your own to hold against the review of an attempt; it is answered by a line
    #[arg(long, value_name = "LINE")]
    pub answer: Option<String>,
    /// As what [default: what the name of the file says, else text]
    #[arg(long, value_enum)]
    pub format: Option<Page>,
    /// Writes to a file instead of standard output; for a folder with html, the folder for its pages and the index.html that links them
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Nodes a search [default: 200000, or what settings.yaml says]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(100..=1_000_000_000))]
    pub nodes: Option<u64>,
}
