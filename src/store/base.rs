//! The one file that knows sled.
//!
//! Every call runs guarded, since the library panics on damage. `kept` holds what must last,
//! `disposable` what can be computed again. How far `kept` has come stands in itself and changes in
//! the same atomic batch as the value, so a database that silently lost its tail tells so.

use std::collections::HashMap;
use std::path::{Path, PathBuf};

use sled::{Batch, Db, Tree};

use super::guard;
use super::journal::Entry;
use super::{StoreError, value};

/// Not a name that [`super::key::Key`] can make: those begin with `r/` or `e/`.
const META: &str = "meta";
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
}

impl Base {
    pub(super) fn open(path: &Path) -> Result<Self, StoreError> {
        guarded(path, || {
            let db = sled::Config::new()
                .path(path)
                .cache_capacity(CACHE_BYTES)
                .flush_every_ms(None)
                .open()?;
            Ok(Self {
                path: path.to_owned(),
                kept: db.open_tree("kept")?,
                disposable: db.open_tree("disposable")?,
                db,
            })
        })
    }

    /// The database with how far it has come, if every value is as it was written and none is missing.
    pub(super) fn checked(self) -> Result<(Self, Meta), StoreError> {
        match self.check() {
            Ok(meta) => Ok((self, meta)),
            Err(e) => {
                // Closing a damaged database may panic like everything else about it.
                guard::catch(move || drop(self)).ok();
                Err(e)
            }
        }
    }

    fn check(&self) -> Result<Meta, StoreError> {
        let wrong = |what: &str, why: &str| Err(StoreError::damaged(&self.path, what, why));
        let raw = guarded(&self.path, || self.kept.get(META))?;
        let meta = match raw {
            None => Meta::default(),
            Some(raw) => match Meta::read(&raw) {
                Some(meta) => meta,
                None => return wrong("its own record", "wrong checksum"),
            },
        };
        let mut count = 0;
        for (key, raw) in self.everything()? {
            if value::open(&key, &raw).is_none() {
                return wrong(&key, "wrong checksum");
            }
            count += 1;
        }
        if count != meta.count {
            return wrong(
                "the database",
                &format!("{count} entries where there should be {}", meta.count),
            );
        }
        Ok(meta)
    }

    /// All that is kept, as entries without numbers.
    pub(super) fn entries(&self) -> Result<Vec<Entry>, StoreError> {
        let all = self.everything()?;
        Ok(all
            .into_iter()
            .filter_map(|(key, raw)| {
                let (version, json) = value::open(&key, &raw)?;
                Some(Entry {
                    seq: 0,
                    version,
                    json: Some(json.to_owned()),
                    key,
                })
            })
            .collect())
    }

    fn everything(&self) -> Result<Vec<(String, Vec<u8>)>, StoreError> {
        let mut all = self.scan("e/", false)?;
        all.append(&mut self.scan("r/", false)?);
        Ok(all)
    }

    /// Carries entries over in one atomic step. They are kept when [`Base::flush`] has returned.
    pub(super) fn apply(&self, meta: Meta, entries: &[Entry]) -> Result<Meta, StoreError> {
        guarded(&self.path, || self.stage(meta, entries))
    }

    /// Waits until the system has everything.
    pub(super) fn flush(&self) -> Result<(), StoreError> {
        guarded(&self.path, || self.db.flush().map(|_| ()))
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
        Ok(Err(sled::Error::Io(e))) => Err(StoreError::io(path, &e)),
        Ok(Err(other)) => Err(StoreError::damaged(path, "the database", other.to_string())),
        Err(panic) => Err(StoreError::damaged(path, "the database", panic)),
    }
}
