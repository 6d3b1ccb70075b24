//! The arguments of `foreply backup` and `foreply restore`.

use std::path::PathBuf;

pub(super) const BACKUP_EXAMPLE: &str = "\
Example: foreply backup ~/foreply-2026-02.backup

The file is read again before it takes its name. It replaces an older backup of that name, never
another file. It can be written while the program is open in another window.
Exit codes: 0 written, 1 wrong arguments or settings, 4 not written.";

pub(super) const RESTORE_EXAMPLE: &str = "\
Examples:
  foreply restore FILE                        into a folder in which nothing is kept yet
  foreply --home DIR restore FILE --replace DIR   in the place of what is kept there

What is replaced is first written to a backup of its own in the home folder, and its name is printed.
Settings come along, but never an engine or a folder of tables: a backup may come from anybody.
Exit codes: 0 restored, 1 the wrong folder is named, 4 not restored, and nothing changed.";

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
