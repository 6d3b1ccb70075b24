//! What the files looked like when the store was last closed, so that opening need not read them all.
//!
//! A store that was closed as it should be leaves a file `closed` with size and time of change of its
//! journal and of every file of its database. Where that is how they still are, nobody has touched
//! them, and the check of every value can wait until the screens stand. Where one differs, or the file
//! is missing because the process was killed, everything is checked before anything is read.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::UNIX_EPOCH;

use super::{private, write_private};

const NAME: &str = "closed";
const HEAD: &str = "foreply-closed 1";

/// True where the files are as the last closing left them. The mark is taken away: whatever happens
/// from here on happens to an open store.
pub(super) fn take(folder: &Path) -> bool {
    let path = folder.join(NAME);
    let marked = std::fs::read_to_string(&path).unwrap_or_default();
    let same = state(folder).is_some_and(|now| now == marked);
    // A mark that cannot be taken away must not be believed next time either: it holds times.
    std::fs::remove_file(&path).is_ok() && same
}

/// Sizes and times, one line each, in the order of names; `None` where they cannot be told.
fn state(folder: &Path) -> Option<String> {
    let mut files = vec![folder.join("journal")];
    files.extend(copy(folder));
    gather(&folder.join("sled"), 0, &mut files)?;
    files.sort();
    let mut out = format!("{HEAD}\n");
    for file in files {
        let meta = file.metadata().ok()?;
        let changed = meta.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
        let name = file.strip_prefix(folder).ok()?.display();
        // Writing into a string does not fail.
        let _ = writeln!(out, "{} {} {name}", meta.len(), changed.as_nanos());
    }
    Some(out)
}

/// The second copy of the journal, where there is one.
fn copy(folder: &Path) -> Option<PathBuf> {
    let copy = folder.join("journal-copy");
    copy.exists().then_some(copy)
}

/// The files below a folder, two levels deep: the database has no more.
fn gather(folder: &Path, level: usize, files: &mut Vec<PathBuf>) -> Option<()> {
    for entry in std::fs::read_dir(folder).ok()? {
        let path = entry.ok()?.path();
        match path.is_dir() {
            true if level < 2 => gather(&path, level + 1, files)?,
            true => return None,
            false => files.push(path),
        }
    }
    Some(())
}

/// Writes the mark when it is dropped, which must be after the database and before the lock.
#[derive(Debug)]
pub(super) struct Closing {
    folder: PathBuf,
    /// Something was found damaged: the next opening shall look at everything.
    doubt: AtomicBool,
    /// Closing the database has failed.
    failed: Arc<AtomicBool>,
}

impl Closing {
    /// `failed` is set where the database could not be closed.
    pub(super) fn new(folder: &Path, failed: Arc<AtomicBool>) -> Self {
        Self {
            failed,
            folder: folder.to_owned(),
            doubt: AtomicBool::new(false),
        }
    }

    pub(super) fn doubt(&self) {
        self.doubt.store(true, Ordering::Relaxed);
    }

    pub(super) fn in_doubt(&self) -> bool {
        self.doubt.load(Ordering::Relaxed) || self.failed.load(Ordering::Relaxed)
    }
}

/// Waits until the disk has the files themselves: the mark must not outlive what it vouches for.
fn settle(folder: &Path) -> Option<()> {
    let mut files: Vec<PathBuf> = copy(folder).into_iter().collect();
    gather(&folder.join("sled"), 0, &mut files)?;
    for file in files {
        std::fs::File::open(file).ok()?.sync_all().ok()?;
    }
    Some(())
}

impl Drop for Closing {
    fn drop(&mut self) {
        self.mark();
    }
}

impl Closing {
    /// Writes how the files look now. What is written to them later makes the mark worthless, as it
    /// should.
    pub(super) fn mark(&self) {
        // The library has made files of its own meanwhile. What cannot be changed was told at the start.
        let _ = private::keep_private(&self.folder);
        if !self.in_doubt()
            && settle(&self.folder).is_some()
            && let Some(state) = state(&self.folder)
        {
            // Without it the next opening is slower, nothing else.
            let _ = write_private(&self.folder.join(NAME), &state);
        }
    }
}
