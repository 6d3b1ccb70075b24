//! The arguments of `foreply coach`.

use std::path::PathBuf;

use clap::Subcommand;

use super::global::Format;

#[derive(Debug, Subcommand)]
pub(crate) enum Coach {
    /// Writes attempts as PGN, one game each, the tree as it was written
    #[command(after_help = SEND_EXAMPLE)]
    Send(Send),
    /// Takes a coach's lines, verdicts and words from the PGN file that came back
    #[command(after_help = TAKE_EXAMPLE)]
    Take(Take),
}

pub(super) const SEND_EXAMPLE: &str = "\
Example:
  foreply coach send last --player \"Marrowby, Ilse\" -o for-bram.pgn

He opens the file with any PGN editor, writes between the lines and sends it back.";

pub(super) const TAKE_EXAMPLE: &str = "\
Example:
  foreply coach take from-bram.pgn --by \"Bram Oskarn\"

Words a coach can use in a comment, with the colon:
  Overruled: why        strikes the findings at this place from review and statistics
  Overruled 2: why      strikes finding 2 of a file sent with --with-review
  Upheld: / Upheld 2:   lets them stand again
  Homework: what        sets the position here as homework";

#[derive(Debug, clap::Args)]
pub(crate) struct Send {
    /// Names of locked attempts, or 'last'
    #[arg(required = true, value_name = "ATTEMPT")]
    pub attempts: Vec<String>,
    /// The file to write
    #[arg(long, short, value_name = "FILE")]
    pub output: PathBuf,
    /// Also writes the findings of the review; without, the coach thinks first
    #[arg(long)]
    pub with_review: bool,
    /// Your name, for the file
    #[arg(long, value_name = "NAME")]
    pub player: Option<String>,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Take {
    /// The PGN file that came back ('-' for standard input)
    pub file: String,
    /// The coach's name [default: the file's annotator]
    #[arg(long, value_name = "NAME")]
    pub by: Option<String>,
    /// The attempt it answers, where the file no longer says so
    #[arg(long, value_name = "ATTEMPT")]
    pub attempt: Option<String>,
    /// Shows what it would bring and keeps nothing
    #[arg(long)]
    pub dry_run: bool,
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}
