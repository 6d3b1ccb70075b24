//! The one file that knows sled.
//!
//! Every call runs guarded, since the library panics on damage. `kept` holds what must last,
//! `disposable` what can be computed again. How far `kept` has come stands in itself and changes in
//! the same atomic batch as the value, so a database that silently lost its tail tells so.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use sled::{Batch, Db, Tree};

use super::guard;
use super::journal::Entry;
use super::wake;
use super::{StoreError, lock, value};

/// Not a name that [`super::key::Key`] can make: those begin with `r/` or `e/`.
const META: &str = "meta";
/// Neither is this: it is written to have the library look whether a write has failed.
const KNOCK: &str = "knock";
/// What every key of something kept begins with.
const KEPT: [&str; 2] = ["e/", "r/"];
const CACHE_BYTES: u64 = 32 << 20;

/// How far the database has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Meta {
    /// The number of the last entry that is in.
    pub(super) seq: u64,
    /// How many values stand.
    pub(super) count: u64,
}

impl Meta {
    fn raw(self) -> Vec<u8> {
        value::wrap(META, 1, &format!("{} {}", self.seq, self.count))
    }

    fn read(raw: &[u8]) -> Option<Self> {
        let (seq, count) = value::open(META, raw)?.1.split_once(' ')?;
        Some(Self {
            seq: seq.parse().ok()?,
            count: count.parse().ok()?,
        })
    }
}

#[derive(Debug)]
pub(super) struct Base {
    path: PathBuf,
    // The handle of the whole database; the trees keep it open as well, but flushing goes by it.
    db: Db,
    kept: Tree,
    disposable: Tree,
    /// The system has refused a write.
    refused: AtomicBool,
    // The last of them: fields go in this order.
    last: LastHandle,
}

/// Whoever lets go of the library last has it close its files, and where the system refuses that, it panics (0.34).
#[derive(Debug)]
struct LastHandle {
    db: Option<Db>,
    failed: Arc<AtomicBool>,
}

impl Drop for LastHandle {
    fn drop(&mut self) {
        let db = self.db.take();
        // What it has not written stands in the journal.
        if guard::catch(move || drop(db)).is_err() {
            self.failed.store(true, Ordering::Relaxed);
        }
    }
}

/// The library writes once more when it is closed, and may wait for ever for a disk that has refused it. What it has not
/// written stands in the journal; the system closes its files.
impl Drop for Base {
    fn drop(&mut self) {
        // Where the library waits when it is closed, nobody would wake it: so there is nothing left to wait for.
        if !self.refused.load(Ordering::Relaxed) && self.flush().is_err() {
            self.last.failed.store(true, Ordering::Relaxed);
        }
        if self.refused.load(Ordering::Relaxed) {
            std::mem::forget(self.db.clone());
        }
    }
}

impl Base {
    pub(super) fn open(path: &Path) -> Result<Self, StoreError> {
        lock::wait_for(path);
        guarded(path, || {
            let db = sled::Config::new()
                .path(path)
                .cache_capacity(CACHE_BYTES)
                .flush_every_ms(None)
                .open()?;
            let last = LastHandle {
                db: Some(db.clone()),
                failed: Arc::default(),
            };
            Ok(Self {
                last,
                path: path.to_owned(),
                kept: db.open_tree("kept")?,
                disposable: db.open_tree("disposable")?,
                db,
                refused: AtomicBool::new(false),
            })
        })
    }

    /// Whether closing it has failed, to be asked when it is gone: its files are then not as they seem.
    pub(super) fn failed_to_close(&self) -> Arc<AtomicBool> {
        self.last.failed.clone()
    }

    /// The database with how far it has come, if every value is as it was written and none is missing.
    /// Where one is not, `readable` gets those that are.
    pub(super) fn checked(self, readable: &mut Vec<Entry>) -> Result<(Self, Meta), StoreError> {
        match self.check() {
            Ok(meta) => Ok((self, meta)),
            Err(e) => {
                *readable = self.readable();
                Err(e)
            }
        }
    }

    /// The database with how far it has come, its values unseen.
    pub(super) fn trusted(self) -> Result<(Self, Meta), StoreError> {
        let meta = self.meta()?;
        Ok((self, meta))
    }

    fn meta(&self) -> Result<Meta, StoreError> {
        let raw = guarded(&self.path, || self.kept.get(META))?;
        match raw.map(|raw| Meta::read(&raw)) {
            None => Ok(Meta::default()),
            Some(Some(meta)) => Ok(meta),
            Some(None) => Err(self.wrong(tr!("its own record"), tr!("wrong checksum"))),
        }
    }

    fn wrong(&self, what: &str, why: &str) -> StoreError {
        StoreError::damaged(&self.path, what, why)
    }

    /// Looks at every value. While others write, the number of values can only be held against what the
    /// database says of itself where that has not changed meanwhile.
    pub(super) fn check(&self) -> Result<Meta, StoreError> {
        let before = self.meta()?;
        let mut count = 0;
        for prefix in KEPT {
            guarded(&self.path, || self.check_below(prefix, &mut count))?
                .map_or(Ok(()), |key| Err(self.wrong(&key, tr!("wrong checksum"))))?;
        }
        let meta = self.meta()?;
        if meta == before && count != meta.count {
            let why = tr!("{count} entries where there should be {}", meta.count);
            return Err(self.wrong(tr!("the database"), &why));
        }
        Ok(meta)
    }

    /// The first key whose value is not as it was written.
    fn check_below(&self, prefix: &str, count: &mut u64) -> sled::Result<Option<String>> {
        for found in self.kept.scan_prefix(prefix) {
            let (key, raw) = found?;
            let sound = std::str::from_utf8(&key).is_ok_and(|key| value::is_sound(key, &raw));
            if !sound {
                return Ok(Some(String::from_utf8_lossy(&key).into_owned()));
            }
            *count += 1;
        }
        Ok(None)
    }

    /// Closes a database that may be damaged, and gives what could still be read of it.
    pub(super) fn readable(self) -> Vec<Entry> {
        let mut found = Vec::new();
        for prefix in KEPT {
            // Ends at the first page that cannot be read; what came before it is kept.
            let reading = || {
                for value in self.kept.scan_prefix(prefix) {
                    let Ok((key, raw)) = value else { break };
                    found.extend(
                        std::str::from_utf8(&key)
                            .ok()
                            .and_then(|k| Entry::of(k, &raw)),
                    );
                }
            };
            guard::catch(reading).ok();
        }
        // Closing a damaged database may panic like everything else about it.
        guard::catch(move || drop(self)).ok();
        found
    }

    /// All that is kept, as entries without numbers.
    pub(super) fn entries(&self) -> Result<Vec<Entry>, StoreError> {
        let mut entries = Vec::new();
        for prefix in KEPT {
            for (key, raw) in self.scan(prefix, false)? {
                let entry = Entry::of(&key, &raw);
                entries.push(entry.ok_or_else(|| self.wrong(&key, tr!("wrong checksum")))?);
            }
        }
        Ok(entries)
    }

    /// Carries entries over in one atomic step. They are kept when [`Base::flush`] has returned.
    pub(super) fn apply(&self, meta: Meta, entries: &[Entry]) -> Result<Meta, StoreError> {
        self.writing(guarded(&self.path, || self.stage(meta, entries)))
    }

    /// Waits until the system has everything.
    pub(super) fn flush(&self) -> Result<(), StoreError> {
        let flush = || wake::while_waiting(wake::PATIENCE, || self.knock(), || self.db.flush());
        self.writing(guarded(&self.path, || flush().map(|_| ())))
    }

    /// A write that asks whether one before it has failed, and wakes whoever waits for that one. It waits for nothing itself.
    fn knock(&self) {
        let write = || -> sled::Result<()> {
            // A value that stands there already would not be written.
            if self.disposable.remove(KNOCK)?.is_none() {
                self.disposable.insert(KNOCK, Vec::new())?;
            }
            Ok(())
        };
        guard::catch(write).ok();
    }

    fn writing<T>(&self, done: Result<T, StoreError>) -> Result<T, StoreError> {
        done.inspect_err(|_| self.refused.store(true, Ordering::Relaxed))
    }

    /// Carries many entries over, some hundreds at a time.
    pub(super) fn apply_all(&self, meta: Meta, entries: &[Entry]) -> Result<Meta, StoreError> {
        let mut chunks = entries.chunks(512);
        let meta = chunks.try_fold(meta, |meta, chunk| self.apply(meta, chunk))?;
        self.flush()?;
        Ok(meta)
    }

    fn stage(&self, mut meta: Meta, entries: &[Entry]) -> sled::Result<Meta> {
        let mut batch = Batch::default();
        // What the entries before in the same batch have made of a key.
        let mut changed: HashMap<&str, bool> = HashMap::new();
        for entry in entries {
            let key = entry.key.as_str();
            let stood = match changed.insert(key, entry.json.is_some()) {
                Some(stood) => stood,
                None => self.kept.contains_key(key)?,
            };
            match &entry.json {
                Some(json) => batch.insert(key, value::wrap(key, entry.version, json)),
                None => batch.remove(key),
            }
            meta.count =
                (meta.count + u64::from(entry.json.is_some())).saturating_sub(u64::from(stood));
            meta.seq = entry.seq;
        }
        batch.insert(META, meta.raw());
        self.kept.apply_batch(batch)?;
        Ok(meta)
    }

    /// Not flushed: losing it costs time only.
    pub(super) fn set_disposable(&self, key: &str, raw: Option<Vec<u8>>) -> Result<(), StoreError> {
        guarded(&self.path, || {
            match raw {
                Some(raw) => self.disposable.insert(key, raw)?,
                None => self.disposable.remove(key)?,
            };
            Ok(())
        })
    }

    pub(super) fn get(&self, key: &str, disposable: bool) -> Result<Option<Vec<u8>>, StoreError> {
        let tree = self.tree(disposable);
        guarded(&self.path, || Ok(tree.get(key)?.map(|raw| raw.to_vec())))
    }

    /// Everything whose name begins with `prefix`, in the order of names.
    pub(super) fn scan(
        &self,
        prefix: &str,
        disposable: bool,
    ) -> Result<Vec<(String, Vec<u8>)>, StoreError> {
        let tree = self.tree(disposable);
        guarded(&self.path, || {
            tree.scan_prefix(prefix)
                .map(|found| {
                    let (key, raw) = found?;
                    Ok((String::from_utf8_lossy(&key).into_owned(), raw.to_vec()))
                })
                .collect()
        })
    }

    /// The parts that follow `prefix` up to the next slash, each once. Jumps from one to the next, so
    /// that a thousand logs are a thousand steps, however long they are.
    pub(super) fn children(
        &self,
        prefix: &str,
        disposable: bool,
    ) -> Result<Vec<String>, StoreError> {
        let tree = self.tree(disposable);
        guarded(&self.path, || {
            let mut found = Vec::new();
            let mut from = prefix.to_owned();
            while let Some(entry) = tree.range(from.as_str()..).next() {
                let key = String::from_utf8_lossy(&entry?.0).into_owned();
                let Some((child, _)) = key.strip_prefix(prefix).and_then(|k| k.split_once('/'))
                else {
                    break;
                };
                // '0' is the character after '/', so this is past everything below the child.
                from = format!("{prefix}{child}0");
                found.push(child.to_owned());
            }
            Ok(found)
        })
    }

    fn tree(&self, disposable: bool) -> &Tree {
        if disposable {
            &self.disposable
        } else {
            &self.kept
        }
    }
}

fn guarded<T>(path: &Path, work: impl FnOnce() -> sled::Result<T>) -> Result<T, StoreError> {
    match guard::catch(work) {
        Ok(Ok(value)) => Ok(value),
        // A file that ends too early is no trouble of the disk: it has lost its end.
        Ok(Err(sled::Error::Io(e))) if e.kind() == std::io::ErrorKind::UnexpectedEof => Err(
            StoreError::damaged(path, tr!("the database"), tr!("a file of it is cut off")),
        ),
        Ok(Err(sled::Error::Io(e))) => Err(StoreError::io(path, &as_the_system_gave_it(e))),
        Ok(Err(other)) => Err(StoreError::damaged(
            path,
            tr!("the database"),
            other.to_string(),
        )),
        Err(panic) => Err(StoreError::damaged(path, tr!("the database"), panic)),
    }
}

/// The library hands an error on as a text of its own (0.34: `Os { code: 5, ... }`), with the system's number in it.
fn as_the_system_gave_it(error: std::io::Error) -> std::io::Error {
    let text = error.to_string();
    let number = text.strip_prefix("Os { code: ");
    let number = number.and_then(|rest| rest.split_once(',')?.0.parse().ok());
    number.map_or(error, std::io::Error::from_raw_os_error)
}

#[cfg(test)]
impl Base {
    /// Puts a wrong byte into a value.
    pub(super) fn hurt(&self, key: &str) {
        let mut raw = self.kept.get(key).unwrap().unwrap().to_vec();
        raw[12] ^= 1;
        self.kept.insert(key, raw).unwrap();
        self.db.flush().unwrap();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What the library gives where its file ends before the page it wants: the store can be mended, other
    /// errors of the system are told as they are.
    #[test]
    fn a_file_that_ends_too_early_is_damage() {
        let failing = |kind: std::io::ErrorKind| {
            guarded(Path::new("sled"), || -> sled::Result<()> {
                Err(sled::Error::Io(kind.into()))
            })
        };
        let cut = failing(std::io::ErrorKind::UnexpectedEof);
        assert!(matches!(cut, Err(StoreError::Damaged { .. })));
        let full = failing(std::io::ErrorKind::StorageFull);
        assert!(matches!(full, Err(StoreError::Full { .. })));
    }

    #[test]
    fn an_error_of_the_system_is_told_in_its_own_words() {
        let first = std::io::Error::from_raw_os_error(5);
        // Whoever asks after the first is given a copy.
        let sled::Error::Io(copy) = sled::Error::Io(std::io::Error::from_raw_os_error(5)).clone()
        else {
            unreachable!()
        };
        assert_ne!(copy.to_string(), first.to_string());
        assert_eq!(as_the_system_gave_it(copy).to_string(), first.to_string());
        let other = std::io::Error::other("Os { code: x, y }");
        assert_eq!(
            as_the_system_gave_it(other).to_string(),
            "Os { code: x, y }"
        );
    }
}
