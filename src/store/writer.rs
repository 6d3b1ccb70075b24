//! How an entry is kept: journal first, its copy, then the database; in a second window in that window's file.
//!
//! Where the database refuses what the journal has, it is kept, and the next start carries it over. Until then nothing more is
//! taken: the library that has met an error of the system refuses all that comes after it, and whoever tried again would
//! have written twice.

use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::base::Meta;
use super::journal::{Entry, Journal};
use super::key::Key;
use super::source::Source;
use super::{Record, Store, StoreError, value, window};

#[derive(Debug)]
pub(super) struct Writer {
    pub(super) journal: Journal,
    /// How far the database has come.
    pub(super) meta: Meta,
    /// Why the database has refused what the journal has.
    refused: Option<String>,
    /// The second copy of the journal; `None` where it could not be written.
    pub(super) copy: Option<Journal>,
}

impl Writer {
    pub(super) fn new(journal: Journal, copy: Option<Journal>, meta: Meta) -> Self {
        Self {
            journal,
            copy,
            meta,
            refused: None,
        }
    }

    pub(super) fn next_seq(&self) -> u64 {
        self.meta.seq + 1
    }

    /// The database has not taken what the journal has: nothing more is written until the next start.
    pub(super) fn refuse(&mut self, path: &Path, error: &StoreError) -> StoreError {
        let reason = self.refused.insert(error.reason());
        StoreError::behind(path, reason)
    }
}

pub(super) fn locked(writer: &Mutex<Writer>) -> MutexGuard<'_, Writer> {
    // A thread that panicked while it held the lock has left a complete `Writer`: its fields are
    // only replaced whole.
    writer.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Store {
    /// Journal first, then the database: what the journal has and the database has not is carried
    /// over at the next opening; the other way round it would be lost with the database.
    ///
    /// # Errors
    /// [`StoreError::Behind`] where it is kept all the same; after any other nothing of it is.
    pub(super) fn write_all(&self, entries: Vec<Entry>) -> Result<(), StoreError> {
        self.claim(&entries)?;
        self.write_unclaimed(entries)
    }

    /// The same for what was claimed where it was written.
    pub(super) fn write_unclaimed(&self, mut entries: Vec<Entry>) -> Result<(), StoreError> {
        if let Some(window) = &self.window {
            return window::locked(window).keep(&self.source, entries);
        }
        let (Source::Base(base), Some(writer)) = (&self.source, &self.writer) else {
            return Err(StoreError::OnlyRead {
                path: self.folder.clone(),
            });
        };
        let mut writer = locked(writer);
        self.refuse_more(&writer)?;
        let last = entries.len().saturating_sub(1);
        for (at, (entry, seq)) in entries.iter_mut().zip(writer.next_seq()..).enumerate() {
            entry.seq = seq;
            entry.joined = at < last;
        }
        writer.journal.append(&entries)?;
        let copied = writer
            .copy
            .as_mut()
            .map(|copy| copy.append_unsynced(&entries));
        if let Some(Err(_)) = copied {
            // The entries are kept in the journal; the next start makes the copy anew, and says where it cannot.
            writer.copy = None;
            self.doubt();
        }
        let taken = base
            .apply(writer.meta, &entries)
            .and_then(|meta| base.flush().map(|()| meta));
        writer.meta = taken.map_err(|error| {
            self.doubt();
            writer.refuse(&self.folder, &error)
        })?;
        Ok(())
    }

    /// # Errors
    /// The database has refused something before.
    pub(super) fn refuse_written(&self) -> Result<(), StoreError> {
        let writer = self.writer.as_ref();
        writer.map_or(Ok(()), |writer| self.refuse_more(&locked(writer)))
    }

    fn refuse_more(&self, writer: &Writer) -> Result<(), StoreError> {
        let refused = writer.refused.as_ref();
        refused.map_or(Ok(()), |reason| {
            Err(StoreError::behind(&self.folder, reason))
        })
    }

    /// What can be computed again is simply not kept where nothing may be written.
    pub(super) fn write_disposable<R: Record>(
        &self,
        key: &Key,
        json: Option<String>,
    ) -> Result<(), StoreError> {
        if let Some(window) = &self.window {
            return window::locked(window).keep_disposable(&self.source, entry::<R>(key, json));
        }
        let (Source::Base(base), Some(_)) = (&self.source, &self.writer) else {
            return Ok(());
        };
        let raw = json.map(|json| value::wrap(key.as_str(), R::VERSION, &json));
        let done = base.set_disposable(key.as_str(), raw);
        done.inspect_err(|e| self.note(e))
    }
}

/// An entry of one value; its number is given when it is kept.
pub(super) fn entry<R: Record>(key: &Key, json: Option<String>) -> Entry {
    Entry {
        seq: 0,
        joined: false,
        version: R::VERSION,
        key: key.as_str().to_owned(),
        json,
    }
}
