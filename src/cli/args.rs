//! The arguments, without any side effect of reading them.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};
use directories::ProjectDirs;

use crate::app::{Config, Preset};
use crate::cli::Failure;
use crate::cli::commands::playout::args;

/// What stands below every help page.
const FAIR_PLAY: &str = "\
For training only, never during a game in progress: the FIDE Laws of Chess (article 11.3) and the
fair-play rules of every event forbid it. A coach's judgement outranks an engine's number.";

/// Write your calculation down before you move, and see exactly where it and the truth part.
///
/// Without a command it opens the screens on what to practise now.
#[derive(Debug, Parser)]
#[command(name = "foreply", version, after_help = FAIR_PLAY, disable_help_subcommand = true)]
pub(crate) struct Args {
    #[command(flatten)]
    pub global: Global,
    #[command(subcommand)]
    pub command: Option<Command>,
}

#[derive(Debug, Clone, clap::Args)]
pub(crate) struct Global {
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
    pub(crate) fn config(&self) -> Result<Config, Failure> {
        let home = self.home()?;
        let preset = Preset::read(&home)?;
        Ok(self.with(home, preset))
    }

    /// The same, but settings that cannot be read count as none: for telling so.
    pub(crate) fn unset_config(&self) -> Result<Config, Failure> {
        let home = self.home()?;
        let preset = Preset::read(&home).unwrap_or_default();
        Ok(self.with(home, preset))
    }

    /// Nothing but ASCII, by the command line or by the settings.
    pub(crate) fn ascii(&self) -> Result<bool, Failure> {
        Ok(self.ascii || Preset::read(&self.home()?)?.ascii.unwrap_or_default())
    }

    /// What is typed outranks what is set.
    fn with(&self, home: PathBuf, preset: Preset) -> Config {
        let mut config = Config::new(home);
        config.engine = self.engine.clone().or(preset.engine);
        config.tables = self.tables.clone().or(preset.tables);
        config.jobs = self.jobs.or(preset.jobs).map(usize::from);
        config.nodes = preset.nodes;
        config
    }

    /// The folder in which all is kept. The platform's own is made with what is above it; one that is
    /// named must lie in a folder that is there, since it may be on a disk that is not.
    pub(crate) fn home(&self) -> Result<PathBuf, Failure> {
        if let Some(home) = &self.home {
            return Ok(home.clone());
        }
        let home = ProjectDirs::from("", "", "foreply").map(|dirs| dirs.data_dir().to_owned());
        let home = home.ok_or_else(|| {
            Failure::store("this platform names no folder for data; give one with --home DIR")
        })?;
        if let Some(above) = home.parent() {
            // Where it fails, opening the store says why.
            let _ = std::fs::create_dir_all(above);
        }
        Ok(home)
    }

    /// Notices on standard error.
    pub(crate) fn tell(&self, notices: &[String]) {
        for notice in notices.iter().filter(|_| !self.quiet) {
            eprintln!("foreply: {}", crate::text::safe(notice));
        }
    }
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Opens the screens on one position
    #[command(after_help = PRACTICE_EXAMPLES)]
    Practice(Practice),
    /// Compares written variations with the truth
    #[command(after_help = FAIR_PLAY)]
    Review(Review),
    /// Your own games: from PGN to the moments worth calculating
    #[command(subcommand, after_help = FAIR_PLAY)]
    Games(Games),
    /// Plays a position out against the engine, and shows where it slipped
    #[command(after_help = args::HELP)]
    Playout(args::Playout),
    /// What many attempts say together: what you miss, how you judge, whether it changes
    #[command(after_help = "\
Example: foreply progress --format html -o progress.html
A plan:  foreply progress --sittings 3 --habit replies-that-give-up")]
    Progress(ProgressPage),
    /// The positions to practise with
    #[command(subcommand)]
    Drills(Drills),
    /// Writes everything that is kept to one file
    #[command(after_help = BACKUP_EXAMPLE)]
    Backup(Backup),
    /// Puts a backup into the home folder
    #[command(after_help = RESTORE_EXAMPLE)]
    Restore(Restore),
    /// Shows what was found on this machine, and what to mend
    #[command(after_help = SETUP_EXAMPLE)]
    Setup(Setup),
    /// Written variations out to a coach, and his answer back in
    #[command(subcommand)]
    Coach(Coach),
    /// Speaks UCI on standard input and output
    Engine(Engine),
}

const BACKUP_EXAMPLE: &str = "\
Example: foreply backup ~/foreply-2026-02.backup

The file is read again before it takes its name. It replaces an older backup of that name, never
another file. It can be written while the program is open in another window.
Exit codes: 0 written, 1 wrong arguments or settings, 4 not written.";

const RESTORE_EXAMPLE: &str = "\
Examples:
  foreply restore FILE                        into a folder in which nothing is kept yet
  foreply --home DIR restore FILE --replace DIR   in the place of what is kept there

What is replaced is first written to a backup of its own in the home folder, and its name is printed.
Exit codes: 0 restored, 1 the wrong folder is named, 4 not restored, and nothing changed.";

const SETUP_EXAMPLE: &str = "\
Example: foreply setup

Exit codes: 0 everything works, 1 settings or tables do not, 2 the terminal, 3 the engine, 4 the store.";

#[derive(Debug, clap::Args)]
pub(crate) struct Backup {
    pub file: PathBuf,
    /// Reads an existing backup to its end and tells what it holds, writing nothing
    #[arg(long)]
    pub check: bool,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Restore {
    pub file: PathBuf,
    /// Replaces what is kept; must name the home folder itself
    #[arg(long, value_name = "HOME")]
    pub replace: Option<PathBuf>,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Setup {
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Practice {
    /// A drill of the collection, by number or name; a file of drills (.yaml); or a position of your own
    /// games (own-...)
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
    /// The same sitting as lines of text, without cursor control: for screen readers, simple terminals
    /// and scripts
    #[arg(long)]
    pub plain: bool,
    /// With the tour of one minute beside it; F12 ends it
    #[arg(long, conflicts_with = "plain")]
    pub tour: bool,
}

const PRACTICE_EXAMPLES: &str = "\
Examples:
  foreply practice                        what is to be practised next
  foreply practice 12 --minutes 5         position 12 of the collection, in five minutes
  foreply practice saavedra-1895          a position by its name
  foreply practice my-drills.yaml         a file of drills of your own
  foreply practice --fen '8/2P5/8/8/3r4/8/2K5/k7 w - - 0 1'
  foreply practice 7 --look 60            a minute of looking before writing opens
  foreply practice 7 --sight none         without the board, after a first look
  foreply practice --tour                 the tour of one minute, on a real position
  foreply practice 12 --plain             the sitting as lines of text, no cursor control
  foreply practice 12 --plain <lines.txt  the same from a file, a line as you would type it

In the sitting: type a line of moves and Enter, a verdict (= +/- -+ 65%) or {words} behind a move; an
empty line goes back; F10 chooses and locks; F1 shows all keys. Esc leaves: every key is kept.

For training only, never during a game in progress: the FIDE Laws of Chess (article 11.3) and the
fair-play rules of every event forbid it. A coach's judgement outranks an engine's number.";

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Sight {
    /// The board stays at the position
    Root,
    /// The board follows the written moves
    Follow,
    /// The board is hidden while writing
    None,
}

/// The forms of a review.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Form {
    Text,
    Json,
    /// One page to read and to print
    Html,
}

#[derive(Debug, clap::Args)]
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
    #[arg(long, value_enum, default_value_t = Form::Text)]
    pub format: Form,
    /// Writes to a file instead of standard output; for a folder with html, the folder for its pages
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Nodes a search [default: 200000, or what settings.yaml says]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(100..=1_000_000_000))]
    pub nodes: Option<u64>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Coach {
    /// Writes attempts as PGN, one game each, the tree as it was written
    #[command(after_help = SEND_EXAMPLE)]
    Send(Send),
    /// Takes a coach's lines, verdicts and words from the PGN file that came back
    #[command(after_help = TAKE_EXAMPLE)]
    Take(Take),
}

const SEND_EXAMPLE: &str = "\
Example:
  foreply coach send last --player \"Marrowby, Ilse\" -o for-bram.pgn

He opens the file with any PGN editor, writes between the lines and sends it back.";

const TAKE_EXAMPLE: &str = "\
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

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    Text,
    Json,
}

#[derive(Debug, clap::Args)]
pub(crate) struct ProgressPage {
    #[arg(long, value_enum, default_value_t = Page::Text)]
    pub format: Page,
    /// Writes to a file instead of standard output
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Reviews the locked attempts that are not counted yet, and counts them
    #[arg(long)]
    pub count: bool,
    /// Plan: sittings a week
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=50))]
    pub sittings: Option<u32>,
    /// Plan: one habit to change, by its name as in the JSON
    #[arg(long, value_name = "NAME")]
    pub habit: Option<String>,
    /// For the eve of a game instead: three positions you have solved and two habits, nothing new
    #[arg(long)]
    pub eve: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Page {
    Text,
    Json,
    Html,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Drills {
    /// Lists the drills, without anything that gives a solution away
    List {
        /// Only those that you added, by name
        #[arg(long)]
        own: bool,
    },
    /// Shows one drill, by number or name, with its published solution
    Show { drill: String },
    /// Proves every drill of a file, or of the built-in collection: legal, and the judge agrees
    Check {
        file: Option<PathBuf>,
        /// Nodes a search
        #[arg(long, value_name = "N", default_value_t = 1_000_000, value_parser = clap::value_parser!(u64).range(100..=1_000_000_000))]
        nodes: u64,
        /// Writes the grade of each drill into FILE, a file of YAML; all else in it stays as it is
        #[arg(long, requires = "file")]
        grade: bool,
    },
    /// Adds drills of your own: YAML, EPD (bm, am, pv), or PGN with a FEN tag in each game
    #[command(
        after_help = "Example: foreply drills add from-bram.pgn, then foreply practice\n\nExit codes: 0 all added, 1 some refused or the file is wrong (then none is added)."
    )]
    Add {
        #[arg(required = true)]
        files: Vec<PathBuf>,
    },
    /// Takes away drills that you added; what you wrote at them stays
    Remove {
        #[arg(required = true, value_name = "DRILL")]
        drills: Vec<String>,
    },
    /// Writes drills to a file, solutions included: .epd is EPD, anything else YAML
    #[command(after_help = "Example: foreply drills export mine.epd --own")]
    Export {
        file: PathBuf,
        /// Only these, by number or name
        #[arg(long = "drill", value_name = "DRILL")]
        drills: Vec<String>,
        /// Only those that you added
        #[arg(long, conflicts_with = "drills")]
        own: bool,
    },
    /// Writes the position of a locked attempt as a drill; its lines are the judge's
    #[command(
        after_help = "Example: foreply drills from-attempt last -o mine.yaml, then foreply drills add mine.yaml"
    )]
    FromAttempt {
        /// The name of a locked attempt, or 'last'
        attempt: String,
        /// The file to write [default: standard output]
        #[arg(long, short, value_name = "FILE")]
        output: Option<PathBuf>,
    },
}

#[derive(Debug, Subcommand)]
pub(crate) enum Games {
    /// Adds your games of a PGN file; the same game twice is one game
    #[command(after_help = "Example: foreply games add season.pgn --player \"Verrick, Ansa\"")]
    Add(AddGames),
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
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
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
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
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
    /// With charts as HTML
    #[arg(long, value_enum, default_value_t = Page::Text)]
    pub format: Page,
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
    /// Fits expected scores to results of games, and tells tenth by tenth how it holds on games not seen
    Calibrate {
        /// Files of kept positions
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// Takes every Nth position
        #[arg(long, default_value_t = 1)]
        stride: usize,
        /// Searches every position anew with so many nodes [default: the scores of the games]
        #[arg(long)]
        nodes: Option<u64>,
        #[arg(long, default_value_t = 1)]
        threads: usize,
        /// Source file to write the curve to (src/engine/fitted.rs)
        #[arg(long, value_name = "FILE")]
        write: Option<PathBuf>,
    },
}
