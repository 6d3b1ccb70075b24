//! Many entries in one step: for imports, where nothing is told to be kept before all of it is.

use super::journal::Entry;
use super::key::Key;
use super::source::Source;
use super::{Record, Store, StoreError, locked, value};

/// Entries that are kept together by [`Batch::keep`]: all of them, or none where that fails. Where the process is
/// killed meanwhile, the first of them may stay, in their order. What is read before does not see them.
#[must_use]
pub struct Batch<'s> {
    store: &'s Store,
    entries: Vec<Entry>,
    bytes: usize,
}

impl Store {
    /// An empty batch.
    pub fn batch(&self) -> Batch<'_> {
        Batch {
            store: self,
            entries: Vec::new(),
            bytes: 0,
        }
    }
}

impl Batch<'_> {
    /// As [`Store::put`], for records that are not disposable.
    ///
    /// # Errors
    /// As [`Store::put`]; the rest of the batch stays as it was.
    pub fn put<R: Record>(&mut self, key: &str, value: &R) -> Result<(), StoreError> {
        const { assert!(!R::DISPOSABLE) };
        let key = Key::record(R::TABLE, key)?;
        self.store.refuse_newer::<R>(&key)?;
        let json = value::json(&key, value)?;
        self.push::<R>(&key, json);
        Ok(())
    }

    /// A whole log of events, numbered from 0. There is none of that name yet.
    ///
    /// # Errors
    /// There is, or the name is none.
    pub fn put_log<R: Record>(&mut self, log: &str, events: &[R]) -> Result<(), StoreError> {
        const { assert!(!R::DISPOSABLE) };
        let first = Key::event(R::TABLE, log, 0)?;
        if self.store.ask(|s| s.get(first.as_str(), false))?.is_some() {
            return Err(StoreError::event(log, 0, "the log is there already"));
        }
        for (seq, event) in events.iter().enumerate() {
            let key = Key::event(R::TABLE, log, seq as u64)?;
            let json = value::json(&key, event)?;
            self.push::<R>(&key, json);
        }
        Ok(())
    }

    fn push<R: Record>(&mut self, key: &Key, json: String) {
        self.bytes += key.as_str().len() + json.len();
        self.entries.push(Entry {
            // Given when it is kept.
            seq: 0,
            version: R::VERSION,
            key: key.as_str().to_owned(),
            json: Some(json),
        });
    }

    /// Bytes of names and values so far.
    #[must_use]
    pub fn bytes(&self) -> usize {
        self.bytes
    }

    /// Keeps all of it; returns when it is flushed.
    ///
    /// # Errors
    /// It could not be written, and nothing of it counts.
    pub fn keep(self) -> Result<(), StoreError> {
        if self.entries.is_empty() {
            return Ok(());
        }
        self.store.write_all(self.entries)
    }
}

impl Store {
    /// Journal first, then the database: what the journal has and the database has not is carried
    /// over at the next opening; the other way round it would be lost with the database.
    pub(super) fn write_all(&self, mut entries: Vec<Entry>) -> Result<(), StoreError> {
        let (Source::Base(base), Some(writer)) = (&self.source, &self.writer) else {
            return Err(StoreError::OnlyRead {
                path: self.folder.clone(),
            });
        };
        let mut writer = locked(writer);
        for (entry, seq) in entries.iter_mut().zip(writer.next_seq()..) {
            entry.seq = seq;
        }
        writer.journal.append(&entries)?;
        writer.behind.append(&mut entries);
        writer.meta = base
            .apply(writer.meta, &writer.behind)
            .inspect_err(|e| self.note(e))?;
        writer.behind.clear();
        base.flush().inspect_err(|e| self.note(e))
    }
}
