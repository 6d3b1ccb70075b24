//! What is kept: tables of any [`Record`], and logs of events. No chess in here.
//!
//! Takes values that know their table, version and form; gives them back, or says what is damaged.
//! What [`Store`] has accepted is flushed: it survives the end of the process at any moment.
//!
//! One folder holds it all:
//!
//! * `lock`: held by the one process that has the store open.
//! * `sled/`: the database, from which everything is read.
//! * `journal`: the same entries as plain text, one checked line each, written and synced *before*
//!   the database. The database is never the only copy: where it is damaged, lost or behind, it is
//!   built again from the journal; where the journal is, it is written again from the database.
//!   What is found damaged is moved aside, never deleted, and [`Store::notices`] tells of it.
//! * `journal-copy`: the journal once more, byte for byte; a line that is damaged in one is taken from the other.
//! * `waiting-NAME`: what a second window keeps while another process has the store; taken in by itself (`window.rs`).
//! * `claims`: the logs that the process which has the store writes on (`claims.rs`).
//! * `lost`: how many entries were in no copy any more, where that has happened ([`Store::lost`]).
//!
//! * `projection-NAME`: what is counted over many entries ([`Projection`]), as it was when it was saved
//!   last; made again where it does not fit the journal.
//!
//! Values that can be computed again ([`Record::DISPOSABLE`]) skip the journal and the flush.
//!
//! Everything in the folder is for its owner alone (`private.rs`), and what stands in the place of one of these files
//! and is no file is refused before it is opened (`strange.rs`).
//!
//! What this does not protect from: both journals damaged in the same entry and the database damaged too, and a disk
//! that says it has written what it has not.

mod aside;
mod backup;
mod base;
mod batch;
mod claims;
mod entry;
mod error;
mod guard;
mod journal;
mod key;
mod lock;
mod lost;
mod mark;
mod mount;
mod places;
mod private;
mod projection;
mod recover;
mod restore;
mod room;
mod second;
mod snapshot;
mod source;
mod stamp;
mod strange;
mod take_in;
mod value;
mod waiting;
mod wake;
mod whole;
mod window;
mod writer;

use std::path::{Path, PathBuf};
use std::sync::Mutex;
#[cfg(test)]
use std::sync::MutexGuard;

use serde::{Serialize, de::DeserializeOwned};

use claims::Claims;
use key::Key;
use lock::Lock;
use source::Source;
use stamp::Closing;
use window::SecondWindow;
use writer::{Writer, locked};

pub use aside::SetAside;
pub use backup::{BACKUP_MAX, BackedUp, Sift, inspect};
pub use batch::Batch;
pub use error::StoreError;
pub use guard::panic_is_handled;
pub use projection::{Change, Projection, ProjectionCache};
pub use restore::{Knowledge, Restored};
pub use whole::{write_private, write_whole};

/// A kind of value that the store can keep.
pub trait Record: Serialize + DeserializeOwned {
    /// The table it lies in: lower-case letters and hyphens.
    const TABLE: &'static str;
    /// The version of its form; raised when older programs could no longer read it.
    const VERSION: u32;
    /// True where a lost value costs only time: it can be computed again.
    const DISPOSABLE: bool = false;

    /// Reads the form of an older version (`json` as it was written). `None` where this program no
    /// longer can.
    #[must_use]
    fn from_older(_version: u32, _json: &str) -> Option<Self> {
        None
    }
}

/// What a room may want of the store without knowing it: values of one kind by key.
pub trait KeyValueCache<R>: Send + Sync {
    /// The value under the key; `None` where there is none.
    ///
    /// # Errors
    /// As [`Store::get`].
    fn look_up(&self, key: &str) -> Result<Option<R>, StoreError>;

    /// Keeps the value under the key.
    ///
    /// # Errors
    /// As [`Store::put`].
    fn keep(&self, key: &str, value: &R) -> Result<(), StoreError>;
}

/// The open store. One process at a time has it; its threads may share it.
#[derive(Debug)]
pub struct Store {
    folder: PathBuf,
    source: Source,
    /// `None` where the store may only be read.
    writer: Option<Mutex<Writer>>,
    /// Where another process has the store: what is written here.
    window: Option<Mutex<SecondWindow>>,
    /// The logs that are written on here.
    claims: Mutex<Claims>,
    notices: Vec<String>,
    set_aside: SetAside,
    /// Every value was looked at when it was opened.
    checked: bool,
    // The order matters: fields are dropped as they stand here. First the database, then the mark that
    // tells how its files look, then the lock, which the system also lets go of when the process ends.
    closing: Option<Closing>,
    _lock: Option<Lock>,
}

impl Store {
    /// Opens the store in the folder `path`, which is created where it does not exist.
    ///
    /// Checks that database and journal have come equally far and that every value is as it was
    /// written, and mends what is not.
    ///
    /// # Errors
    /// Another process has it open, the folder cannot be written, or a newer program has written it;
    /// nothing is changed then.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        recover::open(path)
    }

    /// Whether a store that is not there yet could be begun in the folder.
    ///
    /// # Errors
    /// The folder above it is not there, or the disk that belongs there is not mounted.
    pub fn could_begin(path: &Path) -> Result<(), StoreError> {
        recover::could_begin(path)
    }

    /// As [`Store::open_beside`]; where the folder may not be written, what it holds can be read all the same, and
    /// everything that would write says why it cannot.
    ///
    /// # Errors
    /// As [`Store::open`], where it cannot be read either.
    pub fn open_or_read(path: &Path) -> Result<Self, StoreError> {
        use StoreError::{Full, Permission, ReadOnly};
        let opened = Self::open_beside(path);
        match opened.and_then(|store| room::needed(path).map(|()| store)) {
            Err(why @ (Permission { .. } | ReadOnly { .. } | Full { .. })) => {
                recover::read_only(path, &why).map_err(|_| why)
            }
            opened => opened,
        }
    }

    /// True where nothing can be kept.
    #[must_use]
    pub fn is_read_only(&self) -> bool {
        self.writer.is_none() && self.window.is_none()
    }

    /// Looks at every value, where opening has not: a store whose files nobody has touched since it was
    /// closed is opened at once. To be called when there is time. What it finds is mended by the next
    /// opening.
    ///
    /// # Errors
    /// Something is damaged.
    pub fn check(&self) -> Result<(), StoreError> {
        let Source::Base(base) = &self.source else {
            return Ok(());
        };
        if self.checked {
            return Ok(());
        }
        let copies = ["journal", second::NAME].map(|name| self.folder.join(name));
        let done = base.check().and_then(|_| {
            let mut there = copies.iter().filter(|copy| copy.exists());
            there.try_for_each(|copy| match journal::is_sound(copy)? {
                true => Ok(()),
                false => Err(StoreError::damaged(
                    copy,
                    tr!("a line of it"),
                    tr!("wrong checksum"),
                )),
            })
        });
        done.inspect_err(|e| self.note(e))
    }

    /// To be called when the program ends, since a thread that still works may hold the store open until
    /// the system takes it away: the next opening shall be quick all the same.
    pub fn leave(&self) {
        if let (Source::Base(base), Some(closing)) = (&self.source, &self.closing)
            && base.flush().is_ok()
        {
            closing.mark();
        }
    }

    /// Writes everything that is kept, of all tables, to one file.
    ///
    /// # Errors
    /// Something else stands under that name, or it cannot be written: then no file of that name is
    /// begun, and an older backup there still stands.
    pub fn backup(&self, file: &Path) -> Result<BackedUp, StoreError> {
        backup::refuse_own(&self.folder, file)?;
        let mut entries = self.ask(Source::entries)?;
        // How far a file beside this store has been taken in means nothing in another.
        entries.retain(|entry| backup::table(&entry.key) != waiting::Taken::TABLE);
        entries.append(&mut backup::files(&self.folder)?);
        backup::write(file, entries)
    }

    /// The next opening looks at everything.
    fn doubt(&self) {
        if let Some(closing) = &self.closing {
            closing.doubt();
        }
    }

    /// Damage that is met makes the next opening look at everything.
    fn note(&self, error: &StoreError) {
        if matches!(error, StoreError::Damaged { .. }) {
            self.doubt();
        }
    }

    /// Asks the database or the journal; damage is noted.
    fn ask<T>(
        &self,
        question: impl FnOnce(&Source) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        question(&self.source).inspect_err(|e| self.note(e))
    }

    fn read<R: Record>(&self, key: &str, raw: &[u8]) -> Result<R, StoreError> {
        value::read(&self.folder, key, raw).inspect_err(|e| self.note(e))
    }

    /// What was found damaged at opening and how it was mended, in sentences; empty mostly.
    #[must_use]
    pub fn notices(&self) -> &[String] {
        &self.notices
    }

    /// How many entries were in no copy any more when something was damaged; 0 once a backup is restored.
    #[must_use]
    pub fn lost(&self) -> u64 {
        lost::count(&self.folder)
    }

    /// The folder in which all of it lies.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Keeps a value under a key, in place of what stood there. Returns when it is flushed.
    ///
    /// # Errors
    /// The key is empty, too long or holds blanks; a newer program's value stands there; or it could
    /// not be written, and then the old value still stands.
    pub fn put<R: Record>(&self, key: &str, value: &R) -> Result<(), StoreError> {
        let key = Key::record(R::TABLE, key)?;
        self.refuse_newer::<R>(&key)?;
        let json = value::json(&key, value)?;
        let stands = self.ask(|s| s.get(key.as_str(), R::DISPOSABLE))?;
        if stands.is_some_and(|raw| value::same(&raw, R::VERSION, &json)) {
            // A review that is read again keeps the same figures again: the journal need not grow by it.
            return Ok(());
        }
        self.write::<R>(&key, Some(json))
    }

    /// The value under a key; `None` where there is none.
    ///
    /// # Errors
    /// It is damaged, a newer program has written it, or the database cannot be read. What has the right checksum and
    /// cannot be understood is set aside as if it were not there.
    pub fn get<R: Record>(&self, key: &str) -> Result<Option<R>, StoreError> {
        let key = Key::record(R::TABLE, key)?;
        let Some(raw) = self.ask(|s| s.get(key.as_str(), R::DISPOSABLE))? else {
            return Ok(None);
        };
        match self.read(key.as_str(), &raw) {
            // No program can read it: as if nothing were there, and told.
            unreadable @ Err(StoreError::Unreadable { .. }) => {
                Ok(self.readable(key.as_str(), unreadable))
            }
            read => read.map(Some),
        }
    }

    /// The keys of a table, in their order, whether what stands under them can be read or not.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn keys<R: Record>(&self) -> Result<Vec<String>, StoreError> {
        let prefix = Key::records(R::TABLE)?;
        let found = self.ask(|s| s.scan(prefix.as_str(), R::DISPOSABLE))?;
        let key = |(key, _): (String, Vec<u8>)| Some(key.strip_prefix(prefix.as_str())?.to_owned());
        Ok(found.into_iter().filter_map(key).collect())
    }

    /// Removes what stands under a key; true where something did.
    ///
    /// # Errors
    /// It could not be written; the value still stands.
    pub fn remove<R: Record>(&self, key: &str) -> Result<bool, StoreError> {
        let key = Key::record(R::TABLE, key)?;
        if self.ask(|s| s.get(key.as_str(), R::DISPOSABLE))?.is_none() {
            return Ok(false);
        }
        self.refuse_newer::<R>(&key)?;
        self.write::<R>(&key, None)?;
        Ok(true)
    }

    /// All values of a table in the order of their keys. One that cannot be read is set aside ([`Store::set_aside`]).
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn scan<R: Record>(&self) -> Result<Vec<(String, R)>, StoreError> {
        let prefix = Key::records(R::TABLE)?;
        let found = self.ask(|s| s.scan(prefix.as_str(), R::DISPOSABLE))?;
        let readable = found.into_iter().filter_map(|(key, raw)| {
            let value = self.readable(&key, self.read(&key, &raw))?;
            Some((key.strip_prefix(prefix.as_str())?.to_owned(), value))
        });
        Ok(readable.collect())
    }

    /// Appends an event to a log. Sequence numbers of a log are 0, 1, 2 … without a gap. The same
    /// event once more under its number is accepted, so that a failed append can be tried again.
    ///
    /// # Errors
    /// Another event has this number, the number before it is missing, or it could not be written.
    pub fn append_event<R: Record>(
        &self,
        log: &str,
        seq: u64,
        event: &R,
    ) -> Result<(), StoreError> {
        let key = Key::event(R::TABLE, log, seq)?;
        let json = value::json(&key, event)?;
        if self.is_there::<R>(&key, log, seq, &json)? {
            return Ok(());
        }
        if let Some(before) = seq.checked_sub(1) {
            self.refuse_gap::<R>(&Key::event(R::TABLE, log, before)?, log, seq)?;
        }
        self.write::<R>(&key, Some(json))
    }

    /// True where exactly this event has its number already.
    fn is_there<R: Record>(
        &self,
        key: &Key,
        log: &str,
        seq: u64,
        json: &str,
    ) -> Result<bool, StoreError> {
        // What the database has refused may be half there: tried again it would meet itself.
        self.refuse_written()?;
        match self.ask(|s| s.get(key.as_str(), R::DISPOSABLE))? {
            None => Ok(false),
            Some(raw) if value::same(&raw, R::VERSION, json) => Ok(true),
            Some(_) => {
                let why = tr!("another event has this number");
                Err(StoreError::event(log, seq, why))
            }
        }
    }

    fn refuse_gap<R: Record>(&self, before: &Key, log: &str, seq: u64) -> Result<(), StoreError> {
        match self.ask(|s| s.get(before.as_str(), R::DISPOSABLE))? {
            Some(_) => Ok(()),
            None => {
                let why = tr!("the event before it is missing");
                Err(StoreError::event(log, seq, why))
            }
        }
    }

    /// The events of a log in order; empty where there is no such log.
    ///
    /// # Errors
    /// As [`Store::get`].
    pub fn events<R: Record>(&self, log: &str) -> Result<Vec<R>, StoreError> {
        let prefix = Key::events(R::TABLE, log)?;
        let found = self.ask(|s| s.scan(prefix.as_str(), R::DISPOSABLE))?;
        for (seq, (key, _)) in (0..).zip(&found) {
            // A log without one of its events would tell another story.
            let wanted = Key::event(R::TABLE, log, seq)?;
            if key != wanted.as_str() {
                return Err(self.unreadable(wanted.as_str(), tr!("it is missing")));
            }
        }
        found
            .into_iter()
            .map(|(key, raw)| self.read(&key, &raw))
            .collect()
    }

    /// The names of all logs with events of this kind, sorted.
    ///
    /// # Errors
    /// The database cannot be read.
    pub fn log_ids<R: Record>(&self) -> Result<Vec<String>, StoreError> {
        let prefix = Key::logs(R::TABLE)?;
        self.ask(|s| s.children(prefix.as_str(), R::DISPOSABLE))
    }

    fn refuse_newer<R: Record>(&self, key: &Key) -> Result<(), StoreError> {
        match self.ask(|s| s.get(key.as_str(), R::DISPOSABLE))? {
            Some(raw) if !R::DISPOSABLE => value::refuse_newer::<R>(&self.folder, &raw),
            _ => Ok(()),
        }
    }

    fn write<R: Record>(&self, key: &Key, json: Option<String>) -> Result<(), StoreError> {
        if R::DISPOSABLE {
            return self.write_disposable::<R>(key, json);
        }
        self.write_all(vec![writer::entry::<R>(key, json)])
    }

    #[cfg(test)]
    fn writer(&self) -> MutexGuard<'_, Writer> {
        locked(self.writer.as_ref().unwrap())
    }
}

impl<R: Record> KeyValueCache<R> for Store {
    fn look_up(&self, key: &str) -> Result<Option<R>, StoreError> {
        self.get(key)
    }

    fn keep(&self, key: &str, value: &R) -> Result<(), StoreError> {
        self.put(key, value)
    }
}

#[cfg(test)]
mod batch_tests;
#[cfg(test)]
mod safety_tests;
#[cfg(test)]
mod second_tests;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod window_tests;
