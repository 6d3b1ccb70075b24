//! Putting a backup in the place of what a folder holds.
//!
//! The backup is read to its end first. What stands in the folder is written to a backup of its own
//! before anything is touched. Then the database is moved aside and the journal replaced by one rename:
//! stopped at any moment, the folder holds either the old entries or the new ones, and the next opening
//! builds the database from the journal that it finds.

use std::path::{Path, PathBuf};

use super::journal::{self, Entry, Journal};
use super::lock::Lock;
use super::recover;
use super::snapshot::Snapshot;
use super::{BackedUp, Store, StoreError, backup};

/// What a restoring did.
#[derive(Debug)]
pub struct Restored {
    /// What is kept now.
    pub now: BackedUp,
    /// The backup of what was kept before; `None` where there was nothing.
    pub before: Option<BackedUp>,
}

impl Store {
    /// Puts the entries of the backup `file` into `folder`. Where entries are kept there already they
    /// are replaced only with `replace`, after a backup of them is written to `safety` (a path in the
    /// folder that does not exist yet). `known` tells the newest form that this program reads of a
    /// table; a table it does not know is carried as it is.
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
        known: &dyn Fn(&str) -> Option<u32>,
    ) -> Result<Restored, StoreError> {
        let entries = backup::read(file)?;
        refuse_newer(file, &entries, known)?;
        recover::create(folder)?;
        let lock = Lock::take(folder)?;
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
        let entries = backup::put_files(folder, entries)?;
        switch(folder, &entries, lock)?;
        let now = check(folder, file, &entries)?;
        Ok(Restored { now, before })
    }
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
                    what: format!("the table '{table}'"),
                    found: entry.version,
                    known,
                });
            }
            _ => {}
        }
    }
    Ok(())
}

/// What is kept in the folder, by its journal or else by its database.
fn standing(folder: &Path) -> Result<Vec<Entry>, StoreError> {
    let journal = folder.join("journal");
    let snapshot = match recover::exists(&journal)? {
        true => Snapshot::of_journal(&journal)?,
        false => Snapshot::default(),
    };
    let (entries, bad) = (snapshot.entries(), snapshot.bad);
    if (!entries.is_empty() && bad == 0) || !recover::exists(&folder.join("sled"))? {
        return Ok(entries);
    }
    // Damage: what both have together is more than either has.
    recover::salvage(folder, entries)
}

fn switch(folder: &Path, entries: &[Entry], lock: Lock) -> Result<(), StoreError> {
    let sled = folder.join("sled");
    let aside: Option<PathBuf> = match recover::exists(&sled)? {
        true => Some(recover::aside(&sled, "replaced")?),
        false => None,
    };
    // A mark of the old files must not vouch for the new ones.
    let _ = std::fs::remove_file(folder.join("closed"));
    Journal::create(&folder.join("journal"), entries)?;
    journal::sync_folder(&folder.join("journal"));
    drop(recover::open_locked(folder, lock)?);
    if let Some(aside) = aside {
        // Its entries lie in the safety copy.
        std::fs::remove_dir_all(&aside).map_err(|e| StoreError::io(&aside, &e))?;
    }
    Ok(())
}

/// Opens what was restored as any other start would, and compares.
fn check(folder: &Path, file: &Path, entries: &[Entry]) -> Result<BackedUp, StoreError> {
    let store = Store::open(folder)?;
    let mut kept: Vec<Entry> = store.source.entries()?;
    kept.sort_by(|a, b| a.key.cmp(&b.key));
    let mut wanted: Vec<&Entry> = entries.iter().collect();
    wanted.sort_by(|a, b| a.key.cmp(&b.key));
    let same = kept.len() == wanted.len()
        && kept
            .iter()
            .zip(wanted)
            .all(|(k, w)| (&k.key, k.version, &k.json) == (&w.key, w.version, &w.json));
    match same {
        true => backup::inspect(file),
        false => {
            let reason = "the store reads differently from the backup after restoring";
            Err(StoreError::damaged(folder, "the restored store", reason))
        }
    }
}
