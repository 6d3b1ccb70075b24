//! The arguments of `foreply games`.

use std::path::PathBuf;

use clap::Subcommand;

use super::form::{Format, Page, PageTarget};

#[derive(Debug, Subcommand)]
pub(crate) enum Games {
    /// Adds your games of a PGN file; the same game twice is one game
    #[command(after_help = "Example: foreply games add season.pgn --player \"Verrick, Ansa\"")]
    Add(AddGames),
    /// Reads a score sheet as it was written at the board, finds slips of the pen, and writes the game as PGN
    #[command(after_help = SHEET)]
    Sheet(ScoreSheet),
    /// Your games with their names, and what has become of each
    List(ListGames),
    /// What you yourself think decided a game, before any engine speaks of it; locked, then held against it
    #[command(after_help = RECALL)]
    Recall(Recall),
    /// The account of one game: win, draw and loss, time, moments, what was hard, what passed, what slipped
    #[command(after_help = ACCOUNT)]
    Account(GameAccount),
    /// An event: its rounds, what runs through them, what you take away, and whether what you took away before held
    #[command(after_help = EVENT)]
    Event(Event),
    /// What the games of your next opponent say: first moves, time, exchanges, draws; counts alone
    #[command(
        after_help = "Counted are your own games with him and those of the files. No engine is asked, and nothing is advised.\nExample: foreply games opponent \"Pell, Doran\" --games league.pgn; on the eve: foreply progress --eve --against \"Pell, Doran\""
    )]
    Opponent(Opponent),
    /// Keeps lines that you have prepared, so that the account of a game tells where it left them
    #[command(
        after_help = "The file is PGN, each game a line with its variations; a file of the same name takes the place of an earlier one.\nExamples:\n  foreply games prepare against-the-french.pgn --side white\n  foreply games prepare                         what is kept"
    )]
    Prepare(Prepare),
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
cannot be read. Where it does not fit, the ways to read it are listed, the likeliest first. On the screens (`o`, then `s`) the
same is typed move by move beside a board; every key is kept.
Examples:
  foreply games sheet round-5.txt
  foreply games sheet round-5.txt --repair 1 -o round-5.pgn, then foreply games add round-5.pgn";

const ACCOUNT: &str = "\
GAME is named as for `foreply games recall`; your own thoughts come first: while they are begun and not locked, nothing is told.
- The course is your likelihood of win, draw and loss; how often a kind of position is drawn was fitted on games (a rook
  ending more often than a middlegame), and goes by the ratings in the game: the stronger both are the more is drawn, and the
  more unequal the less. Without ratings it is told as among club players.
- Hard to play: how many of the moves that look good are wrong, and whether the first impression deceives. It knows neither the
  score nor the move that was played, and is no judgement of it.
- A chance that passed: a move that was among the best at two or more of your turns in a row, and then was gone.
- The advantage that was not converted: from .70 on in a game that was not won; every move that gave away .05 or more.
Examples:
  foreply games account last
  foreply games account pell --format html -o round-5.html";

const EVENT: &str = "\
EVENT is 'last', a name of --list or a beginning of it, or words of the event's name.
A takeaway can be tied with --tie to something that is counted in every judged game: a kind of oversight (reply-overlooked,
chance-not-taken, advantage-let-slip, level-turned-worse, only-move-missed, could-have-been-saved, fast-where-it-mattered,
drift), clock:20 (20 minutes left before move 30), converted (games won from .85 on), recognised (turning points named first).
The next event opens with it: the share before and since, the 95 % interval of the difference, and 'not yet to be told' unless
that interval lies on one side. From 10 games before and 10 after a change from 50 to 90 % is told in 47 of 100 cases, from 40
and 20 in 91; one that is none in about 3.
Examples:
  foreply games event
  foreply games event --takeaway \"His checks first.\" --tie reply-overlooked
  foreply games event harrowmere --format html -o harrowmere.html";

const RECALL: &str = "\
GAME is 'last', a game's name as `foreply games list` shows it or a beginning of it, or words: an opponent, a round.
A moment is a position in which it was your move; MOVE is the number of the move that you played there. What you saw is
written as everywhere: moves, a verdict, {words}. Once locked nothing changes; the same command then shows where the game
turned, which of the turning points you named, and which of your moments were none. `foreply progress` counts it by months.
Examples:
  foreply games recall last --mark 17 --saw \"Nxe4 dxe4 Qxe4 +-\" --saw \"h3 =\" --felt +/= --feared \"Bxh7+\"
  foreply games recall last --sentence \"I was too proud to repeat moves.\" --lock
  foreply games recall last --format html -o thoughts.html";

#[derive(Debug, clap::Args)]
pub(crate) struct Opponent {
    /// His name, in any order of its parts
    pub name: String,
    /// A PGN file with games of his; can be given several times
    #[arg(long, value_name = "FILE")]
    pub games: Vec<String>,
    #[command(flatten)]
    pub page: PageTarget,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Event {
    /// Which event
    #[arg(value_name = "EVENT", default_value = "last")]
    pub event: String,
    /// Lists the events of your games
    #[arg(long)]
    pub list: bool,
    /// Adds what you take away, in your own words; at most three
    #[arg(long, value_name = "WORDS", conflicts_with = "list")]
    pub takeaway: Option<String>,
    /// Ties it to something that is counted
    #[arg(long, value_name = "WHAT", requires = "takeaway")]
    pub tie: Option<String>,
    /// Takes a takeaway away again, by its number
    #[arg(long, value_name = "NUMBER", conflicts_with_all = ["list", "takeaway"])]
    pub drop: Option<u8>,
    #[command(flatten)]
    pub judging: Judging,
    #[command(flatten)]
    pub page: PageTarget,
}

#[derive(Debug, clap::Args)]
pub(crate) struct GameAccount {
    /// Which of your games
    #[arg(value_name = "GAME", default_value = "last")]
    pub game: String,
    #[command(flatten)]
    pub judging: Judging,
    #[command(flatten)]
    pub page: PageTarget,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Side {
    White,
    Black,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Prepare {
    /// The PGN file ('-' for standard input)
    #[arg(requires = "side")]
    pub file: Option<String>,
    /// For which side
    #[arg(long, value_enum, requires = "file")]
    pub side: Option<Side>,
    /// Takes lines away again, by their name
    #[arg(long, value_name = "NAME", conflicts_with = "file")]
    pub remove: Option<String>,
}

#[derive(Debug, clap::Args)]
pub(crate) struct ListGames {
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Recall {
    /// Which of your games
    #[arg(value_name = "GAME", default_value = "last")]
    pub game: String,
    /// Marks your move of this number as a moment that decided the game
    #[arg(long, value_name = "MOVE")]
    pub mark: Option<u16>,
    /// A line that you saw there; can be given several times
    #[arg(
        long,
        value_name = "LINE",
        requires = "mark",
        allow_hyphen_values = true
    )]
    pub saw: Vec<String>,
    /// How you felt about the position: = +/= =/+ +/- -/+ +- -+ ~ or a percentage
    #[arg(
        long,
        value_name = "VERDICT",
        requires = "mark",
        allow_hyphen_values = true
    )]
    pub felt: Option<String>,
    /// What you were afraid of there
    #[arg(long, value_name = "WORDS", requires = "mark")]
    pub feared: Option<String>,
    /// Takes the mark from your move of this number
    #[arg(long, value_name = "MOVE")]
    pub unmark: Option<u16>,
    /// One sentence on the game
    #[arg(long, value_name = "WORDS")]
    pub sentence: Option<String>,
    /// Makes it final
    #[arg(long)]
    pub lock: bool,
    #[command(flatten)]
    pub judging: Judging,
    #[command(flatten)]
    pub page: PageTarget,
}

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
