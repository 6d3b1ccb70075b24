//! Putting a backup in the place of what a folder holds.
//!
//! The backup is read to its end first. What stands in the folder is written to a backup of its own
//! before anything is touched. Then the database is moved aside and the journal replaced by one rename:
//! stopped at any moment, the folder holds either the old entries or the new ones, and the next opening
//! builds the database from the journal that it finds.

use std::path::{Path, PathBuf};

use super::backup::Sift;
use super::journal::{Entry, Journal};
use super::lock::Lock;
use super::recover;
use super::second;
use super::snapshot::Snapshot;
use super::{BackedUp, Store, StoreError, backup, lost, waiting};

/// What a restoring did.
#[derive(Debug)]
pub struct Restored {
    /// What is kept now.
    pub now: BackedUp,
    /// The backup of what was kept before; `None` where there was nothing.
    pub before: Option<BackedUp>,
    /// What is to be told besides, in sentences: the entries are there all the same.
    pub told: Vec<String>,
}

/// Who knows what a backup may hold.
pub struct Knowledge<'a> {
    /// The newest form that the program reads of a table; one that it does not know is carried as it is.
    pub known: &'a dyn Fn(&str) -> Option<u32>,
    /// What a file beside the store may bring.
    pub sift: Sift<'a>,
}

impl Store {
    /// Puts the entries of the backup `file` into `folder`. Where entries are kept there already they
    /// are replaced only with `replace`, after a backup of them is written to `safety` (a path in the
    /// folder that does not exist yet).
    ///
    /// # Errors
    /// The backup is damaged or from a newer program, the folder holds entries and `replace` is not
    /// given, another process has it open, or something could not be written: then what was kept before
    /// still stands.
    pub fn restore(
        folder: &Path,
        file: &Path,
        replace: bool,
        safety: &str,
        knowledge: &Knowledge<'_>,
    ) -> Result<Restored, StoreError> {
        let entries = backup::read(file)?;
        refuse_newer(file, &entries, knowledge.known)?;
        let now = backup::inspect(file)?;
        recover::create(folder)?;
        let lock = alone(folder)?;
        let mut before = standing(folder)?;
        before.append(&mut backup::files(folder)?);
        if !before.is_empty() && !replace {
            return Err(StoreError::NotEmpty {
                path: folder.to_owned(),
            });
        }
        let before = match before.is_empty() {
            true => None,
            false => Some(backup::write(&folder.join(safety), before)?),
        };
        let (files, entries) = backup::split(entries);
        let old = switch(folder, &entries)?;
        // From here on the new entries are what the next start finds: whatever fails is told, and is no failure.
        lost::forget(folder);
        let mut told = backup::put_files(folder, &files, knowledge.sift);
        told.extend(finish(folder, old, lock).err().map(|e| later(&e)));
        Ok(Restored { now, before, told })
    }
}

/// What is still to be done is done by every start.
fn later(error: &StoreError) -> String {
    tr!(
        "All entries of the backup are in their place, and nothing has to be restored again. What is made of them \
         for speed could not be finished yet ({error}); the next start finishes it."
    )
}

fn refuse_newer(
    file: &Path,
    entries: &[Entry],
    known: &dyn Fn(&str) -> Option<u32>,
) -> Result<(), StoreError> {
    for entry in entries {
        let table = backup::table(&entry.key);
        match known(table) {
            Some(known) if entry.version > known => {
                return Err(StoreError::Newer {
                    path: file.to_owned(),
                    what: tr!("the table '{table}'"),
                    found: entry.version,
                    known,
                });
            }
            _ => {}
        }
    }
    Ok(())
}

/// The lock, once everything that second windows have kept is in.
fn alone(folder: &Path) -> Result<Lock, StoreError> {
    let lock = Lock::take(folder)?;
    let files = waiting::files(folder);
    if files.iter().any(|path| waiting::is_alive(path)) {
        return Err(StoreError::AlreadyOpen {
            path: folder.to_owned(),
        });
    }
    if files.is_empty() {
        return Ok(lock);
    }
    drop(recover::open_locked(folder, lock)?);
    Lock::take(folder)
}

/// What is kept in the folder, by its journal or else by its database.
fn standing(folder: &Path) -> Result<Vec<Entry>, StoreError> {
    let snapshot = Snapshot::of_journal(folder)?;
    let (entries, bad) = (snapshot.entries(), snapshot.bad);
    if (!entries.is_empty() && bad == 0) || !recover::exists(&folder.join("sled"))? {
        return Ok(entries);
    }
    // Damage: what both have together is more than either has.
    recover::salvage(folder, entries)
}

/// Puts the new journal in the place of the old one, and reads it again. Gives the old database, moved aside.
fn switch(folder: &Path, entries: &[Entry]) -> Result<Option<PathBuf>, StoreError> {
    let (sled, journal) = (folder.join("sled"), folder.join("journal"));
    let aside = match recover::exists(&sled)? {
        true => Some(recover::aside(&sled, "replaced")?),
        false => None,
    };
    // A mark of the old files must not vouch for the new ones, nor the old copy of the journal mend the new one.
    let _ = std::fs::remove_file(folder.join("closed"));
    let done = second::forget(folder)
        .and_then(|()| Journal::create(&journal, entries))
        .and_then(|_| compare(folder, entries));
    match done {
        Ok(()) => Ok(aside),
        Err(error) => {
            // The old database may be the only copy that there is.
            if let Some(aside) = aside {
                std::fs::rename(&aside, &sled).map_err(|e| StoreError::io(&aside, &e))?;
            }
            Err(error)
        }
    }
}

/// Opens what was restored as any other start would.
fn finish(folder: &Path, old: Option<PathBuf>, lock: Lock) -> Result<(), StoreError> {
    drop(recover::open_locked(folder, lock)?);
    match old {
        // Its entries lie in the safety copy.
        Some(old) => std::fs::remove_dir_all(&old).map_err(|e| StoreError::io(&old, &e)),
        None => Ok(()),
    }
}

/// What the disk gives back must be what was to be written.
fn compare(folder: &Path, entries: &[Entry]) -> Result<(), StoreError> {
    let read = Snapshot::of_journal(folder)?;
    let mut wanted: Vec<&Entry> = entries.iter().collect();
    wanted.sort_by(|a, b| a.key.cmp(&b.key));
    let kept = read.entries();
    let same = read.bad == 0
        && kept.len() == wanted.len()
        && kept
            .iter()
            .zip(wanted)
            .all(|(k, w)| (&k.key, k.version, &k.json) == (&w.key, w.version, &w.json));
    if same {
        return Ok(());
    }
    let reason = tr!("the store reads differently from the backup after restoring");
    Err(StoreError::damaged(
        folder,
        tr!("the restored store"),
        reason,
    ))
}
