//! Names in the home folder: whether something stands there, and a free one beside it.

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
