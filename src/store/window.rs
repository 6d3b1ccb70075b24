//! A second window: what it keeps while another process has the store open.
//!
//! It reads what the journal says and writes a file of its own, `waiting-NAME`, in the journal's form and as safely:
//! flushed before anything counts. The process that has the store takes such files in when it looks ([`Store::refresh`]),
//! when it opens the store or, where it has gone meanwhile, the second window does when it closes (`take_in.rs`).
//! While the window lives it holds a lock on `waiting-NAME.open`, so that its file is not cleared away under it.

use std::collections::HashSet;
use std::fs::File;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::journal::{self, Entry, Journal};
use super::mark::Mark;
use super::source::Source;
use super::waiting::{self, alive_path};
use super::{Store, StoreError, places, private, recover, take_in};

/// The writing side of a second window.
#[derive(Debug)]
pub(super) struct SecondWindow {
    folder: PathBuf,
    /// Made with the first entry: a window that only reads leaves nothing behind.
    file: Option<Open>,
    next: u64,
    /// All that has changed since the window was opened, from here and from the other, in that order.
    pub(super) log: Vec<Entry>,
    /// The keys that were written here: of those the other window's news are older.
    own: HashSet<String>,
    /// The last entry of the journal that was read.
    seen: Mark,
}

#[derive(Debug)]
struct Open {
    path: PathBuf,
    journal: Journal,
    alive: File,
}

/// The store beside the process that has it.
pub(super) fn open_beside(folder: &Path) -> Result<Store, StoreError> {
    let seen = last_read(folder)?;
    let told = tr!(
        "Foreply is open in another window too. What you do here is kept beside it, and joined with the rest by \
                itself."
    );
    let mut store = recover::from_journal(folder, told.to_owned())?;
    store.window = Some(Mutex::new(SecondWindow {
        folder: folder.to_owned(),
        file: None,
        next: 1,
        log: Vec::new(),
        own: HashSet::new(),
        seen,
    }));
    Ok(store)
}

/// Read before the journal itself: what comes between is read twice, and not never.
fn last_read(folder: &Path) -> Result<Mark, StoreError> {
    let path = folder.join("journal");
    let last = match places::exists(&path)? {
        true => journal::last(&path)?,
        false => None,
    };
    Ok(last.as_ref().map_or(Mark::NONE, Mark::of))
}

pub(super) fn locked(window: &Mutex<SecondWindow>) -> MutexGuard<'_, SecondWindow> {
    // Its fields are only added to, each entry whole.
    window.lock().unwrap_or_else(PoisonError::into_inner)
}

impl SecondWindow {
    /// Keeps a step in the window's own file, then shows it.
    pub(super) fn keep(
        &mut self,
        source: &Source,
        mut entries: Vec<Entry>,
    ) -> Result<(), StoreError> {
        let last = entries.len().saturating_sub(1);
        for (at, (entry, seq)) in entries.iter_mut().zip(self.next..).enumerate() {
            entry.seq = seq;
            entry.joined = at < last;
        }
        self.open()?.journal.append(&entries)?;
        self.next += entries.len() as u64;
        self.own.extend(entries.iter().map(|e| e.key.clone()));
        self.show(source, entries);
        Ok(())
    }

    /// Keeps what can be computed again, without waiting for the disk.
    pub(super) fn keep_disposable(
        &mut self,
        source: &Source,
        mut entry: Entry,
    ) -> Result<(), StoreError> {
        entry.key.insert_str(0, waiting::DISPOSABLE);
        entry.seq = self.next;
        let kept = [entry];
        self.open()?.journal.append_unsynced(&kept)?;
        self.next += 1;
        source.change(|snapshot| kept.into_iter().for_each(|e| snapshot.carry(e)));
        Ok(())
    }

    /// Takes in what the other window has kept meanwhile; true where there was something. Where its journal was written
    /// anew this window goes on with what it has read.
    pub(super) fn catch_up(&mut self, source: &Source) -> Result<bool, StoreError> {
        let path = self.folder.join("journal");
        let news = match self.seen == Mark::NONE {
            true => Some(journal::read(&path)?.entries),
            false => journal::since(&path, self.seen.seq, self.seen.sum)?,
        };
        let Some(mut news) = news else {
            return Ok(false);
        };
        // A step that is being written just now is not there yet.
        while news.pop_if(|e| e.joined).is_some() {}
        let Some(last) = news.last() else {
            return Ok(false);
        };
        self.seen = Mark::of(last);
        news.retain(|e| !self.own.contains(&e.key));
        let some = !news.is_empty();
        self.show(source, news);
        Ok(some)
    }

    fn show(&mut self, source: &Source, entries: Vec<Entry>) {
        source.change(|snapshot| entries.iter().for_each(|e| snapshot.carry(e.clone())));
        self.log.extend(entries);
    }

    fn open(&mut self) -> Result<&mut Open, StoreError> {
        let open = match self.file.take() {
            Some(open) => open,
            None => begin(&self.folder)?,
        };
        Ok(self.file.insert(open))
    }
}

/// The window's own file, under a name that no other has and with a number behind those of all others: what it says may go on
/// where they end, so it is to be taken in after them.
fn begin(folder: &Path) -> Result<Open, StoreError> {
    let mut number = waiting::next_number(folder);
    loop {
        let path = folder.join(format!("{}{}-{number}", waiting::NAME, std::process::id()));
        number += 1;
        let beside = alive_path(&path);
        let made = private::options()
            .write(true)
            .create_new(true)
            .open(&beside);
        let alive = match made {
            Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => continue,
            made => made.map_err(|e| StoreError::io(&beside, &e))?,
        };
        let held = alive.try_lock();
        held.map_err(|e| StoreError::io(&beside, &e.into()))?;
        if places::exists(&path)? {
            continue;
        }
        return Ok(Open {
            journal: Journal::create(&path, &[])?,
            path,
            alive,
        });
    }
}

/// What was kept here is taken in at once where the other window has gone meanwhile; else by that one.
impl Drop for SecondWindow {
    fn drop(&mut self) {
        let Some(Open { alive, journal, .. }) = self.file.take() else {
            return;
        };
        drop(journal);
        // By name, since a process that is being started may have it open too.
        let _ = alive.unlock();
        drop(alive);
        drop(recover::open(&self.folder));
    }
}

/// What other windows have kept meanwhile is taken in at the end; what cannot be waits for the next start.
impl Drop for Store {
    fn drop(&mut self) {
        if self.writer.is_some() {
            let _ = take_in::all(self);
        }
    }
}

impl Store {
    /// True where another process has the store, and what is written here waits for it.
    #[must_use]
    pub fn is_beside(&self) -> bool {
        self.window.is_some()
    }

    /// Where numbers of new names begin: those of two windows that begin something in the same moment differ.
    #[must_use]
    pub fn first_number(&self) -> usize {
        match self.is_beside() {
            true => 100 * (10 + std::process::id() as usize % 90),
            false => 0,
        }
    }

    /// The file that this window writes, where it is a second one and has written.
    pub(super) fn own_file(&self) -> Option<PathBuf> {
        let window = locked(self.window.as_ref()?);
        Some(window.file.as_ref()?.path.clone())
    }

    /// Takes in what other windows have kept since; true where there was something. To be called where the player looks
    /// at everything anew.
    ///
    /// # Errors
    /// It could not be read, or not be written; it waits where it is.
    pub fn refresh(&self) -> Result<bool, StoreError> {
        match &self.window {
            Some(window) => locked(window).catch_up(&self.source),
            None if self.writer.is_some() => take_in::all(self),
            None => Ok(false),
        }
    }

    /// As [`Store::open`]; where another process has the store open, beside it.
    ///
    /// # Errors
    /// As [`Store::open`], but not that another process has it.
    pub fn open_beside(path: &Path) -> Result<Self, StoreError> {
        match Self::open(path) {
            Err(StoreError::AlreadyOpen { .. }) => open_beside(path),
            opened => opened,
        }
    }
}
