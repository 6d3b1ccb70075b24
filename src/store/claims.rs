//! Which window writes on which log: a log is written on by one window at a time.
//!
//! Before its first event in a log a window says so, then looks whether another has said so
//! before, then whether the log still ends where it has read it. The process that has the store says it in the file
//! `claims`, a second window by the events in its own file; both count only while the process lives. Two that begin in
//! the same moment may both be refused, never both accepted.

use std::collections::{BTreeSet, HashSet};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::{MutexGuard, PoisonError};

use super::journal::Entry;
use super::{Store, StoreError, places, private, waiting};

pub(super) const NAME: &str = "claims";

/// The logs that this process has written on.
#[derive(Debug, Default)]
pub(super) struct Claims(HashSet<String>);

/// Nothing is claimed by a process that has just begun; to be called under the lock.
pub(super) fn forget(folder: &Path) {
    // Where it cannot be emptied, logs of the process before are refused to second windows, nothing else.
    let _ = private::options()
        .create(true)
        .write(true)
        .truncate(true)
        .open(folder.join(NAME));
}

impl Store {
    /// Claims the logs of these entries.
    ///
    /// # Errors
    /// Another window writes on one of them.
    pub(super) fn claim(&self, entries: &[Entry]) -> Result<(), StoreError> {
        let logs = entries.iter().filter_map(Entry::event).map(|(log, _)| log);
        let mut new: BTreeSet<&str> = logs.collect();
        if !new.is_empty() {
            let claims = self.claimed();
            new.retain(|log| !claims.0.contains(*log));
        }
        if new.is_empty() {
            return Ok(());
        }
        self.say(&new)?;
        let said = self.said_elsewhere()?;
        let foreign = |log: &&str| said.iter().any(|text| names(text, log));
        if new.iter().any(foreign) {
            return Err(StoreError::OpenElsewhere {
                path: self.folder.clone(),
            });
        }
        self.refuse_behind(entries)?;
        let new = new.into_iter().map(str::to_owned);
        self.claimed().0.extend(new);
        Ok(())
    }

    /// Held for a moment only: what is taken in meanwhile comes this way too.
    fn claimed(&self) -> MutexGuard<'_, Claims> {
        // A name is only ever put in whole.
        self.claims.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A second window says it by what it writes.
    fn say(&self, logs: &BTreeSet<&str>) -> Result<(), StoreError> {
        if self.is_beside() {
            return Ok(());
        }
        let path = self.folder.join(NAME);
        let lines: String = logs.iter().map(|log| format!(" {log}\n")).collect();
        let written = private::options()
            .create(true)
            .append(true)
            .open(&path)
            .and_then(|mut file| file.write_all(lines.as_bytes()));
        written.map_err(|e| StoreError::io(&path, &e))
    }

    /// What the other windows that are open have written that names logs.
    fn said_elsewhere(&self) -> Result<Vec<Vec<u8>>, StoreError> {
        let mut files = Vec::new();
        if self.is_beside() && places::is_held(&self.folder.join("lock")) {
            files.push(self.folder.join(NAME));
        }
        let own = self.own_file();
        let others = waiting::files(&self.folder).into_iter();
        files.extend(others.filter(|p| own.as_ref() != Some(p) && waiting::is_alive(p)));
        let read = |path: PathBuf| match std::fs::read(&path) {
            // Cleared away meanwhile: that window has gone.
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => Ok(Vec::new()),
            read => read.map_err(|e| StoreError::io(&path, &e)),
        };
        files.into_iter().map(read).collect()
    }

    /// What a window that has gone meanwhile has added.
    fn refuse_behind(&self, entries: &[Entry]) -> Result<(), StoreError> {
        self.refresh()?;
        for (entry, (log, seq)) in entries.iter().filter_map(|e| Some((e, e.event()?))) {
            if self.ask(|s| s.get(&entry.key, false))?.is_some() {
                let why = tr!("it has gone on in another window; open it again");
                return Err(StoreError::event(log, seq, why));
            }
        }
        Ok(())
    }
}

/// Whether an event of the log, or the log itself, stands in what a window has written.
fn names(text: &[u8], log: &str) -> bool {
    let name = format!(" {log}");
    text.windows(name.len()).any(|w| w == name.as_bytes())
}
