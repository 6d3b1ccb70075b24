//! What is in no copy any more: remembered beside the store for as long as it is a loss.
//!
//! The file `lost` holds a line for each time that something was found lost: seconds since 1970, and how many entries.
//! It goes away when a backup is restored, or when the player takes it away.

use std::fs;
use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

use super::{StoreError, write_private};

const NAME: &str = "lost";

/// Adds so many entries to what is lost.
pub(super) fn note(folder: &Path, entries: u64) -> Result<(), StoreError> {
    let path = folder.join(NAME);
    let now = SystemTime::now().duration_since(UNIX_EPOCH);
    let now = now.map_or(0, |t| t.as_secs());
    let text = read(&path) + &format!("{now} {entries}\n");
    write_private(&path, &text).map_err(|e| StoreError::io(&path, &e))
}

/// How many entries are lost, all in all.
pub(super) fn count(folder: &Path) -> u64 {
    let text = read(&folder.join(NAME));
    let number = |line: &str| line.split_once(' ')?.1.parse::<u64>().ok();
    // A line that cannot be read still stands for a loss.
    let rows = text.lines().map(|line| number(line).unwrap_or(1));
    rows.fold(0, u64::saturating_add)
}

/// Everything was replaced.
pub(super) fn forget(folder: &Path) {
    // Where it stays, a loss is told that is none any more: the file is named there.
    let _ = fs::remove_file(folder.join(NAME));
}

fn read(path: &Path) -> String {
    let regular = path.metadata().is_ok_and(|m| m.is_file());
    let text = regular.then(|| fs::read_to_string(path).ok()).flatten();
    text.unwrap_or_default()
}
