//! The arguments of `foreply coach`.

use std::path::PathBuf;

use clap::Subcommand;

use super::collection::{self, CollectionTable, HandOut};
use super::form::{Format, PageTarget};

#[derive(Debug, Subcommand)]
pub(crate) enum Coach {
    /// Writes attempts as PGN, one game each, the tree as it was written
    #[command(after_help = SEND_EXAMPLE)]
    Send(Send),
    /// Takes a coach's lines, verdicts and words from PGN files that came back
    #[command(after_help = TAKE_EXAMPLE)]
    Take(Take),
    /// A coach's own positions for his students, without the lines that he wants to be seen
    #[command(after_help = collection::HAND_OUT_EXAMPLE)]
    HandOut(HandOut),
    /// What came back from several students as one table: who saw what, what most missed first
    #[command(after_help = collection::TABLE_EXAMPLE)]
    Table(CollectionTable),
    /// Lists what a coach has set, done or not
    #[command(after_help = HOMEWORK_EXAMPLE)]
    Homework(Homework),
    /// A coach beside you strikes a finding, or lets it stand again
    #[command(after_help = RULE_EXAMPLE)]
    Rule(Rule),
}

pub(super) const SEND_EXAMPLE: &str = "\
Examples:
  foreply coach send last --player \"Marrowby, Ilse\" -o for-bram.pgn
  foreply coach send --homework -o for-bram.pgn      what you wrote to his homework and have not sent yet

He opens the file with any PGN editor, writes between the lines and sends it back. The first game also tells
which homework is done and which is not.";

pub(super) const TAKE_EXAMPLE: &str = "\
Examples:
  foreply coach take from-bram.pgn --by \"Bram Oskarn\"
  foreply coach take back/*.pgn              each game to the attempt it answers, as often as you like

Words a coach can use in a comment, with the colon:
  Overruled: why               strikes the findings at this place from review and statistics
  Overruled 2: why             strikes finding 2 of a file sent with --with-review
  Upheld: / Upheld 2:          lets them stand again
  Homework: what               sets the position here as homework
  Homework by 2026-12-05: what the same, until a day

Another player's tree on the same position is no coach's word and is refused; a game that answers an attempt which
is not kept here is left out and told.";

pub(super) const HOMEWORK_EXAMPLE: &str = "\
Examples:
  foreply practice --homework             the first position that is not done
  foreply coach homework -o homework.html";

pub(super) const RULE_EXAMPLE: &str = "\
Examples:
  foreply coach rule last                                        the findings with their numbers
  foreply coach rule last 1 --by \"Bram Oskarn\" --why \"she had seen it\"
  foreply coach rule last 1 --by \"Bram Oskarn\" --uphold          he takes it back

What a coach has struck counts in no figure, and is told as his. Only he takes it back.";

#[derive(Debug, clap::Args)]
pub(crate) struct Send {
    /// Names of locked attempts, or 'last'
    #[arg(required_unless_present = "homework", value_name = "ATTEMPT")]
    pub attempts: Vec<String>,
    /// Also every attempt that does homework and was not sent yet
    #[arg(long)]
    pub homework: bool,
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
    /// The PGN files that came back ('-' for standard input)
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<String>,
    /// The coach's name [default: the file's annotator]
    #[arg(long, value_name = "NAME")]
    pub by: Option<String>,
    /// The attempt that a file answers, where it no longer says so
    #[arg(long, value_name = "ATTEMPT")]
    pub attempt: Option<String>,
    /// Shows what it would bring and keeps nothing
    #[arg(long)]
    pub dry_run: bool,
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Homework {
    #[command(flatten)]
    pub page: PageTarget,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Rule {
    /// The name of a locked attempt, or 'last'
    pub attempt: String,
    /// The finding by its number in the list; without, the list
    #[arg(value_parser = clap::value_parser!(u16).range(1..), requires = "by")]
    pub finding: Option<u16>,
    /// The coach's name
    #[arg(long, value_name = "NAME")]
    pub by: Option<String>,
    /// Why it is struck
    #[arg(long, value_name = "WORDS", conflicts_with = "uphold")]
    pub why: Option<String>,
    /// Lets a finding that he struck stand again
    #[arg(long, requires = "finding")]
    pub uphold: bool,
}
