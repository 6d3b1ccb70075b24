//! The arguments of `foreply drills`.

use std::path::PathBuf;

use clap::Subcommand;

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
    /// Writes drills to a file, in the form that its name says: .yaml, .epd or .pgn
    #[command(after_help = "\
Examples:
  foreply drills export mine.epd --own
  foreply drills export for-tuesday.pgn --drill 3 --drill 7 --without-solutions")]
    Export {
        file: PathBuf,
        /// Only these, by number or name
        #[arg(long = "drill", value_name = "DRILL")]
        drills: Vec<String>,
        /// Only those that you added
        #[arg(long, conflicts_with = "drills")]
        own: bool,
        /// The positions alone, as PGN: to be handed out
        #[arg(long = "without-solutions")]
        bare: bool,
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
