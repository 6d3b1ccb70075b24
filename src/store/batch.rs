//! Many entries in one step: what belongs together is kept together or not at all.

use super::journal::Entry;
use super::key::Key;
use super::{Record, Store, StoreError, value, writer};

/// Entries that are kept together by [`Batch::keep`]: all of them, or none, also where the process is killed
/// meanwhile. What is read before does not see them.
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
        let stands = self.store.ask(|s| s.get(key.as_str(), false))?;
        let same = stands.is_some_and(|raw| value::same(&raw, R::VERSION, &json));
        // What this batch has changed before is written again in any case.
        if !same || self.entries.iter().any(|e| e.key == key.as_str()) {
            self.push::<R>(&key, json);
        }
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
            return Err(StoreError::event(log, 0, tr!("the log is there already")));
        }
        for (seq, event) in events.iter().enumerate() {
            let key = Key::event(R::TABLE, log, seq as u64)?;
            let json = value::json(&key, event)?;
            self.push::<R>(&key, json);
        }
        Ok(())
    }

    /// As [`Store::append_event`]; the events before it may stand in this batch.
    ///
    /// # Errors
    /// As [`Store::append_event`]; the rest of the batch stays as it was.
    pub fn append_event<R: Record>(
        &mut self,
        log: &str,
        seq: u64,
        event: &R,
    ) -> Result<(), StoreError> {
        const { assert!(!R::DISPOSABLE) };
        let key = Key::event(R::TABLE, log, seq)?;
        let json = value::json(&key, event)?;
        if self.store.is_there::<R>(&key, log, seq, &json)? {
            return Ok(());
        }
        if let Some(before) = seq.checked_sub(1) {
            let before = Key::event(R::TABLE, log, before)?;
            let here = self.entries.iter().rev().any(|e| e.key == before.as_str());
            if !here {
                self.store.refuse_gap::<R>(&before, log, seq)?;
            }
        }
        self.push::<R>(&key, json);
        Ok(())
    }

    /// As [`Store::remove`], for records that are not disposable; of what this batch puts it knows nothing.
    ///
    /// # Errors
    /// As [`Store::remove`]; the rest of the batch stays as it was.
    pub fn remove<R: Record>(&mut self, key: &str) -> Result<(), StoreError> {
        const { assert!(!R::DISPOSABLE) };
        let key = Key::record(R::TABLE, key)?;
        if self.store.ask(|s| s.get(key.as_str(), false))?.is_some() {
            self.store.refuse_newer::<R>(&key)?;
            self.entry::<R>(&key, None);
        }
        Ok(())
    }

    fn push<R: Record>(&mut self, key: &Key, json: String) {
        self.bytes += key.as_str().len() + json.len();
        self.entry::<R>(key, Some(json));
    }

    fn entry<R: Record>(&mut self, key: &Key, json: Option<String>) {
        self.entries.push(writer::entry::<R>(key, json));
    }

    /// Bytes of names and values so far.
    #[must_use]
    pub fn bytes(&self) -> usize {
        self.bytes
    }

    /// Keeps all of it; returns when it is flushed.
    ///
    /// # Errors
    /// It could not be written, and nothing of it counts; but after [`StoreError::Behind`] it is there from the next start on.
    pub fn keep(self) -> Result<(), StoreError> {
        if self.entries.is_empty() {
            return Ok(());
        }
        self.store.write_all(self.entries)
    }
}
