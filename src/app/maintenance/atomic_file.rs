//! Files that are written whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

/// Writes a file by way of a neighbour that is renamed at the end, once it is on disk.
///
/// # Errors
/// It cannot be written; what stood there before still stands.
pub fn write_whole(path: &Path, text: &str) -> io::Result<()> {
    let name = path
        .file_name()
        .ok_or(io::Error::new(io::ErrorKind::InvalidInput, "no file name"))?;
    let beside = path.with_file_name(format!(".{}.part", name.to_string_lossy()));
    let result = fs::File::create(&beside).and_then(|mut file| {
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
        fs::rename(&beside, path)
    });
    if result.is_err() {
        // The part is of no use to anybody; the error that matters is the first one.
        let _ = fs::remove_file(&beside);
    }
    result
}
