//! The arguments of `foreply games`.

use std::path::PathBuf;

use clap::Subcommand;

use super::form::{Format, Page};

#[derive(Debug, Subcommand)]
pub(crate) enum Games {
    /// Adds your games of a PGN file; the same game twice is one game
    #[command(after_help = "Example: foreply games add season.pgn --player \"Verrick, Ansa\"")]
    Add(AddGames),
    /// Reads a score sheet as it was written at the board, finds slips of the pen, and writes the game as PGN
    #[command(after_help = SHEET)]
    Sheet(ScoreSheet),
    /// Judges every move of your games and picks the positions worth a sitting
    #[command(
        after_help = "One position in four is one where you thought well, so that being shown a position says nothing about it;\nfor the same reason nothing is told about them here unless you ask with --tell.\nExample: foreply games moments -o own.yaml, then foreply practice own.yaml, or only foreply"
    )]
    Moments(Moments),
    /// Shows where your time went, what it brought, and what became of your advantages
    #[command(after_help = "Example: foreply games clock --format html -o time.html")]
    Clock(Clock),
    /// Your games by their first moves: points, standing and time when the opening is over
    #[command(
        after_help = "Standing is told of games that `foreply games moments` or `clock` have judged.\nExample: foreply games openings -o after-the-opening.yaml"
    )]
    Openings(Openings),
    /// The pawn structures that you keep meeting, with your plan for each
    #[command(
        after_help = "Your words are kept and nobody marks them; a coach's words stand beside yours.\nExamples:\n  foreply games plan                       the structures, numbered\n  foreply games plan 1 --break \"b4-b5\" --good \"the knight on e5\" --tried 2\n  foreply games plan 1 --coach \"First the rook to b1.\" --by \"Bram Oskarn\""
    )]
    Plan(PlanCard),
}

const SHEET: &str = "\
The sheet is a text file, typed as it stands on paper:
  White: Verrick, Ansa
  Black: Pell, Doran
  Event: Harrowmere Chess League
  1. e4 e5 2. Nf3 0:58 Nc6 0:57
  3. Bb5 ? 4. O-O
  1-0
Moves in any way of writing them, with or without numbers; a time behind a move is the clock after it; ? is a move that
cannot be read. Where it does not fit, the ways to read it are listed, the likeliest first.
Examples:
  foreply games sheet round-5.txt
  foreply games sheet round-5.txt --repair 1 -o round-5.pgn, then foreply games add round-5.pgn";

#[derive(Debug, clap::Args)]
pub(crate) struct ScoreSheet {
    /// The text file ('-' for standard input)
    pub file: String,
    /// Takes this reading of the list
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..), conflicts_with = "as_far")]
    pub repair: Option<u8>,
    /// Writes the game up to where the sheet stops to fit
    #[arg(long)]
    pub as_far: bool,
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// The PGN file to write, instead of standard output
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Openings {
    /// Games that a branch must hold to be told by itself
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = clap::value_parser!(u16).range(1..))]
    pub least: u16,
    /// Writes the positions after the opening as drills, judging first what is not judged: those in which you
    /// stood worse or had taken much time, or with --branch all of that branch
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// A branch by its number on the page
    #[arg(long, value_name = "NUMBER", requires = "output")]
    pub branch: Option<u16>,
    #[command(flatten)]
    pub judging: Judging,
    #[arg(long, value_enum, default_value_t = Page::Text)]
    pub format: Page,
}

#[derive(Debug, clap::Args)]
pub(crate) struct PlanCard {
    /// A structure, by its number in the list or by its key (w-d4e3-c6d5)
    pub structure: Option<String>,
    /// The pawn break you play for; an empty text takes words away, here and below
    #[arg(long = "break", value_name = "WORDS", requires = "structure")]
    pub pawn_break: Option<String>,
    /// The good piece
    #[arg(long, value_name = "WORDS", requires = "structure")]
    pub good: Option<String>,
    /// The bad piece
    #[arg(long, value_name = "WORDS", requires = "structure")]
    pub bad: Option<String>,
    /// The exchange you want
    #[arg(long, value_name = "WORDS", requires = "structure")]
    pub trade: Option<String>,
    /// What the other side wants
    #[arg(long, value_name = "WORDS", requires = "structure")]
    pub other: Option<String>,
    /// What your coach says about it; added to what he has said before
    #[arg(long, value_name = "WORDS", requires = "by")]
    pub coach: Option<String>,
    /// The coach's name
    #[arg(long, value_name = "NAME", requires = "coach")]
    pub by: Option<String>,
    /// A game in which you tried the plan, by its number on the card
    #[arg(long, value_name = "GAME", requires = "structure")]
    pub tried: Vec<String>,
    /// A game in which you did not, after all
    #[arg(long, value_name = "GAME", requires = "structure")]
    pub not_tried: Vec<String>,
    /// Games in which a structure must have stood to be listed
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = clap::value_parser!(u16).range(1..))]
    pub least: u16,
    #[arg(long, value_enum, default_value_t = Page::Text)]
    pub format: Page,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Judging {
    /// Nodes for each position of a game; what is found is asked again with four times as many
    #[arg(long, value_name = "N", default_value_t = 20_000, value_parser = clap::value_parser!(u64).range(100..=1_000_000_000))]
    pub nodes: u64,
    /// Your games of today that have no result are over
    #[arg(long)]
    pub over: bool,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Clock {
    #[command(flatten)]
    pub judging: Judging,
    /// As what; HTML has charts [default: what the name of the file says, else text]
    #[arg(long, value_enum)]
    pub format: Option<Page>,
    /// Writes to a file instead of standard output
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Moments {
    #[command(flatten)]
    pub judging: Judging,
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Writes the positions as drills
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// At most so many positions, those with the most to learn
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    pub limit: Option<u16>,
    /// Tells the reason for each position, and the move: for after you have calculated them
    #[arg(long)]
    pub tell: bool,
}

#[derive(Debug, clap::Args)]
pub(crate) struct AddGames {
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
