//! The arguments of `foreply coach hand-out` and `foreply coach table`.

use std::path::PathBuf;

use super::form::PageTarget;
use crate::text::TypedDate;

pub(super) const HAND_OUT_EXAMPLE: &str = "\
COLLECTION is a PGN file of yours, a game for each position (FEN tag) with what is to be seen as moves and variations;
or the name of a sitting of your own. A position of a game that was played is taken where variations stand.
'Homework by 2026-12-05: find the move' before the first move says what to do with that one position.

The file for the students holds the positions and what to do, nothing of your lines: whatever is in a file can be read
with an editor, so a hidden tree would be hidden from nobody who is curious. Your trees stay with you, where you can
still change them; `foreply coach table` holds them against what comes back, and who should see them gets your own
file afterwards: foreply review ATTEMPT --model autumn.pgn.

Examples:
  foreply coach hand-out autumn.pgn --by \"Bram Oskarn\" --until 2026-12-05 -o for-students.pgn
  foreply coach hand-out k7fd k8aa --by \"Bram Oskarn\" --name Autumn -o for-students.pgn
Then each student:
  foreply coach take for-students.pgn
  foreply practice --homework
  foreply coach send --homework --player \"Marrowby, Ilse\" -o ilse.pgn";

pub(super) const TABLE_EXAMPLE: &str = "\
A row is a point of your tree: its moves from one fork, or move that you marked with a glyph, a verdict or words, to the
next. What most came to and did not see stands first. A student's tree is found by its position; he is known by the name
in his file, else by the name of the file.
With --review the engine is asked too, and what it finds in several trees is a row of its own.

Examples:
  foreply coach table back/*.pgn --model autumn.pgn
  foreply coach table back --model autumn.pgn --review -o table.html     a folder of files
  foreply coach table back --model k7fd --model k8aa                      sittings of your own";

#[derive(Debug, clap::Args)]
pub(crate) struct HandOut {
    /// PGN files with your lines, or names of sittings of your own
    #[arg(required = true, value_name = "COLLECTION")]
    pub collection: Vec<String>,
    /// Your name, by which the students know from whom it is
    #[arg(long, value_name = "NAME")]
    pub by: String,
    /// What the collection is called to the students; they read it before they write
    #[arg(long, value_name = "NAME", default_value = "Positions")]
    pub name: String,
    /// The day by which it is to be done (YYYY-MM-DD, or as your locale has it)
    #[arg(long, value_name = "DATE")]
    pub until: Option<TypedDate>,
    /// What is to be done
    #[arg(long, value_name = "WORDS", default_value = "")]
    pub words: String,
    /// The file to write
    #[arg(long, short, value_name = "FILE")]
    pub output: PathBuf,
}

#[derive(Debug, clap::Args)]
pub(crate) struct CollectionTable {
    /// The PGN files that came back, or a folder of them
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<String>,
    /// A PGN file with your lines, or the name of a sitting of your own; can be given several times
    #[arg(long, required = true, value_name = "COLLECTION")]
    pub model: Vec<String>,
    /// Also what the engine finds in the trees
    #[arg(long)]
    pub review: bool,
    /// Nodes a search [default: 200000, or what settings.yaml says]
    #[arg(long, value_name = "N", requires = "review", value_parser = clap::value_parser!(u64).range(100..=1_000_000_000))]
    pub nodes: Option<u64>,
    #[command(flatten)]
    pub page: PageTarget,
}
