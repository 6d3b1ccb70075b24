//! Names in the home folder: whether something stands there or is held, and a free one beside it.

use std::fs::File;
use std::path::{Path, PathBuf};

use super::StoreError;

pub(super) fn exists(path: &Path) -> Result<bool, StoreError> {
    path.try_exists().map_err(|e| StoreError::io(path, &e))
}

/// Renames it to the first free `NAME.WHY-N`.
pub(super) fn aside(path: &Path, why: &str) -> Result<PathBuf, StoreError> {
    let mut n = 1;
    loop {
        let to = path.with_extension(format!("{why}-{n}"));
        if !exists(&to)? {
            std::fs::rename(path, &to).map_err(|e| StoreError::io(path, &e))?;
            return Ok(to);
        }
        n += 1;
    }
}

/// True while somebody holds a lock on the file; where it cannot be told too, so that it is left alone.
pub(super) fn is_held(path: &Path) -> bool {
    let Ok(file) = File::open(path) else {
        return false;
    };
    let free = file.try_lock().is_ok();
    let _ = file.unlock();
    !free
}
