//! The files of second windows, `waiting-NAME`, from outside: which there are, whether their window is open, and how far
//! the store has taken them in. What is in them and who writes them: `window.rs`; how it is taken in: `take_in.rs`.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::key::Key;
use super::{Record, StoreError, places, value};

/// What the names of these files begin with.
pub(super) const NAME: &str = "waiting-";
/// What is added to the name for the file that is locked while the window is open.
const ALIVE: &str = ".open";
/// What the key of an entry begins with that can be computed again.
pub(super) const DISPOSABLE: &str = "d/";

/// How far a file has been taken in.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub(super) struct Taken {
    /// The number of its last entry that is in.
    pub(super) seq: u64,
    /// Logs that had been written on elsewhere: what the file says of them is left in it.
    #[serde(default, skip_serializing_if = "BTreeSet::is_empty")]
    pub(super) left: BTreeSet<String>,
}

impl Record for Taken {
    const TABLE: &'static str = "taken-in";
    const VERSION: u32 = 1;
}

impl Taken {
    /// The same of the file at `path`, where values are read by `get`.
    pub(super) fn of(folder: &Path, path: &Path, get: impl Fn(&str) -> Option<Vec<u8>>) -> Self {
        let key = Key::record(Self::TABLE, &name(path)).ok();
        let raw = key.and_then(|key| Some((get(key.as_str())?, key)));
        let read = raw.and_then(|(raw, key)| value::read(folder, key.as_str(), &raw).ok());
        read.unwrap_or_default()
    }
}

pub(super) fn name(path: &Path) -> String {
    let name = path.file_name().unwrap_or_default();
    name.to_string_lossy().into_owned()
}

/// The name of the file that is locked while the window of the file at `path` is open.
pub(super) fn alive_path(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ALIVE);
    name.into()
}

/// The number at the end of a name: a window takes one behind those of all files that are there, so a file goes on where
/// only files with smaller numbers end.
fn number(path: &Path) -> u64 {
    let name = name(path);
    let last = name.rsplit('-').next();
    last.and_then(|n| n.parse().ok()).unwrap_or_default()
}

/// The number for a file that is begun now.
pub(super) fn next_number(folder: &Path) -> u64 {
    let numbers = files(folder).into_iter().map(|path| number(&path));
    numbers.max().map_or(0, |last| last.saturating_add(1))
}

/// The files of second windows, in the order in which they were begun; nothing where the folder cannot be read, which is
/// told of where it is opened.
pub(super) fn files(folder: &Path) -> Vec<PathBuf> {
    let found = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let is_one = |name: &str| {
        let number = name.strip_prefix(NAME)?;
        let right = number.chars().all(|c| c.is_ascii_digit() || c == '-');
        right.then_some(())
    };
    let mut files: Vec<PathBuf> = found
        .filter(|entry| entry.file_name().to_str().and_then(is_one).is_some())
        .map(|entry| entry.path())
        .collect();
    files.sort_by_cached_key(|path| (number(path), path.clone()));
    files
}

/// True while the window that writes the file is open.
pub(super) fn is_alive(path: &Path) -> bool {
    places::is_held(&alive_path(path))
}

/// Takes away the file of a window that has gone, once all of it has been taken in.
pub(super) fn clear(path: &Path) -> Result<(), StoreError> {
    for path in [path.to_owned(), alive_path(path)] {
        match std::fs::remove_file(&path) {
            Err(e) if e.kind() != std::io::ErrorKind::NotFound => {
                return Err(StoreError::io(&path, &e));
            }
            _ => {}
        }
    }
    Ok(())
}
