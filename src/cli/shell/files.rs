//! Files that are written whole or not at all, with a message where they are not.

use std::path::Path;

use crate::app::write_whole;
use crate::cli::Failure;

pub(crate) fn write(path: &Path, text: &str) -> Result<(), Failure> {
    write_whole(path, text).map_err(|e| Failure::input(format!("{}: {e}", path.display())))
}
