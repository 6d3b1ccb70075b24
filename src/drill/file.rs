//! Drills from a file of the user.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use super::{Drill, DrillError, FILE_MAX, load};

/// The drills of a file.
///
/// # Errors
/// It cannot be read, is no regular file, is not UTF-8, or as [`load`].
pub fn load_file(path: &Path) -> Result<Vec<Drill>, Vec<DrillError>> {
    let name = path.display().to_string();
    match read(path) {
        Ok(text) => load(&text, &name),
        Err(what) => Err(vec![DrillError {
            file: name,
            line: 0,
            column: 0,
            id: None,
            what,
        }]),
    }
}

fn read(path: &Path) -> Result<String, String> {
    let kind = path.metadata().map_err(|e| e.to_string())?;
    if !kind.is_file() {
        // A pipe or a device may never end.
        return Err("this is no regular file".to_owned());
    }
    let mut raw = Vec::new();
    // One byte more than allowed, so that a larger file is seen to be larger.
    File::open(path)
        .and_then(|file| file.take(FILE_MAX as u64 + 1).read_to_end(&mut raw))
        .map_err(|e| e.to_string())?;
    String::from_utf8(raw).map_err(|e| {
        format!(
            "byte {} is not UTF-8; save the file as UTF-8",
            e.utf8_error().valid_up_to() + 1
        )
    })
}
