//! What is counted over many entries, kept up with them: a projection is a fold of the journal.
//!
//! Takes the changes of some tables in the order in which they were kept; gives the value that they make.
//! A projection carries the number and the checksum of the last journal entry it has seen. Numbers are given in
//! the same step as the entries themselves, so a projection can be behind, which it notices when it is asked, but
//! never ahead of the log or beside it. It is saved now and then, in a file of its own; where that file is missing,
//! damaged, of another version, or belongs to another journal, it is made again from what the tables hold.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use serde::{Serialize, de::DeserializeOwned};

use super::journal::{self, Entry};
use super::key::Key;
use super::mark::Mark;
use super::source::Source;
use super::{Record, Store, StoreError, locked, value, window, write_private};

const HEAD: &str = "foreply-projection";
/// Entries after which it is saved: so many have to be read again at most after the process was killed.
const SAVED_AFTER: u64 = 200;

/// A value that is made of the records of some tables.
pub trait Projection: Serialize + DeserializeOwned + Default + Clone {
    /// The name of its file: lower-case letters and hyphens.
    const NAME: &'static str;
    /// Raised when what it holds, or what it makes of a change, becomes different: then it is made again.
    const VERSION: u32;
    /// The tables it is made of; changes of others are not given to it.
    const SOURCES: &'static [&'static str];

    /// Takes one change in. What a record said before must be forgotten when it is put again or removed: the
    /// order among different records must not matter, since a new projection sees only what stands.
    ///
    /// # Errors
    /// The record cannot be read.
    fn apply(&mut self, change: &Change<'_>) -> Result<(), StoreError>;
}

/// A record that was put or removed.
#[derive(Debug)]
pub struct Change<'a> {
    pub table: &'a str,
    /// The record's key in its table.
    pub key: &'a str,
    folder: &'a Path,
    /// Version of its form and JSON; `None` where it was removed.
    form: Option<(u32, &'a str)>,
}

impl<'a> Change<'a> {
    /// `None` for an entry that is no record: an event of a log.
    fn of(folder: &'a Path, entry: &'a Entry) -> Option<Self> {
        let (table, key) = entry.key.strip_prefix("r/")?.split_once('/')?;
        Some(Self {
            table,
            key,
            folder,
            form: entry.json.as_deref().map(|json| (entry.version, json)),
        })
    }

    /// The record; `None` where it was removed.
    ///
    /// # Errors
    /// As [`Store::get`].
    pub fn record<R: Record>(&self) -> Result<Option<R>, StoreError> {
        let read = |(version, json)| value::parse(self.folder, self.key, version, json);
        self.form.map(read).transpose()
    }
}

/// A projection as far as it has come; empty until it is asked for.
#[derive(Debug)]
pub struct ProjectionCache<P>(Mutex<Option<State<P>>>);

#[derive(Debug)]
struct State<P> {
    value: Arc<P>,
    at: Mark,
    /// Number of the entry with which it was saved last.
    saved: u64,
}

impl<P> Default for ProjectionCache<P> {
    fn default() -> Self {
        Self(Mutex::new(None))
    }
}

impl<P: Projection> ProjectionCache<P> {
    fn state(&self) -> MutexGuard<'_, Option<State<P>>> {
        // A state is only ever replaced whole: a thread that panicked has left the one before.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The projection of all that is kept at this moment.
    ///
    /// # Errors
    /// A record it is made of cannot be read.
    pub fn current(&self, store: &Store) -> Result<Arc<P>, StoreError> {
        let mut held = self.state();
        let now = match held.take() {
            Some(state) if store.stands_at(state.at) => Some(state),
            Some(state) => store.caught_up(state)?,
            None => match store.saved_projection() {
                // Looked up in the journal in any case: the file may come from another home.
                Some(state) => store.caught_up(state)?,
                None => None,
            },
        };
        let mut state = match now {
            Some(state) => state,
            None => store.projected()?,
        };
        if state.at.seq >= state.saved.saturating_add(SAVED_AFTER) {
            store.save_projection(&mut state);
        }
        let value = state.value.clone();
        *held = Some(state);
        Ok(value)
    }

    /// Saves what has come since it was saved last; to be called when the program ends.
    pub fn save(&self, store: &Store) {
        if let Some(state) = self.state().as_mut()
            && state.at.seq != state.saved
        {
            store.save_projection(state);
        }
    }
}

impl Store {
    /// True where nothing has been kept since; what is only read stands still.
    fn stands_at(&self, at: Mark) -> bool {
        if let Some(window) = &self.window {
            return window::locked(window).log.len() as u64 == at.seq;
        }
        let writer = self.writer.as_ref();
        writer.is_none_or(|writer| locked(writer).next_seq() == at.seq + 1)
    }

    /// Takes in what has come since; `None` where that cannot be told.
    fn caught_up<P: Projection>(
        &self,
        mut state: State<P>,
    ) -> Result<Option<State<P>>, StoreError> {
        if let Some(window) = &self.window {
            let log = &window::locked(window).log;
            let news = usize::try_from(state.at.seq)
                .ok()
                .and_then(|at| log.get(at..));
            let value = Arc::make_mut(&mut state.value);
            for entry in news.unwrap_or_default() {
                self.readable(&entry.key, apply(value, &self.folder, entry));
            }
            state.at = Mark::number(log.len() as u64);
            return Ok(Some(state));
        }
        // Nothing may be written meanwhile: half a step must not be seen.
        let _writer = self.writer.as_ref().map(locked);
        let path = self.folder.join("journal");
        let Some(entries) = journal::since(&path, state.at.seq, state.at.sum)? else {
            return Ok(None);
        };
        let value = Arc::make_mut(&mut state.value);
        for entry in &entries {
            // A record that cannot be read is left out of what is counted, and stops nothing.
            self.readable(&entry.key, apply(value, &self.folder, entry));
            state.at = Mark::of(entry);
        }
        Ok(Some(state))
    }

    /// Made of what the tables hold.
    fn projected<P: Projection>(&self) -> Result<State<P>, StoreError> {
        // Nothing may be written while the tables are read.
        let writer = self.writer.as_ref().map(locked);
        let window = self.window.as_ref().map(window::locked);
        let mut value = P::default();
        for table in P::SOURCES {
            let prefix = Key::records(table)?;
            for (key, raw) in self.ask(|s| s.scan(prefix.as_str(), false))? {
                let entry = Entry::of(&key, &raw)
                    .ok_or_else(|| StoreError::damaged(&self.folder, &key, tr!("wrong checksum")))
                    .inspect_err(|e| self.note(e))?;
                self.readable(&key, apply(&mut value, &self.folder, &entry));
            }
        }
        let at = match (writer, window) {
            (Some(_), _) => journal::last(&self.folder.join("journal"))?
                .map_or(Mark::NONE, |entry| Mark::of(&entry)),
            (None, Some(window)) => Mark::number(window.log.len() as u64),
            (None, None) => Mark::NONE,
        };
        Ok(State {
            value: Arc::new(value),
            at,
            saved: 0,
        })
    }

    fn projection_file<P: Projection>(&self) -> PathBuf {
        self.folder.join(format!("projection-{}", P::NAME))
    }

    /// What was saved; `None` where nothing is there that could be gone on with.
    fn saved_projection<P: Projection>(&self) -> Option<State<P>> {
        if !matches!(self.source, Source::Base(_)) {
            return None;
        }
        let text = std::fs::read_to_string(self.projection_file::<P>()).ok()?;
        let (head, json) = text.split_once('\n')?;
        let mut fields = head.split(' ');
        let ours = fields.next()? == HEAD && fields.next()?.parse() == Ok(P::VERSION);
        let at = Mark {
            seq: fields.next()?.parse().ok()?,
            sum: u32::from_str_radix(fields.next()?, 16).ok()?,
        };
        let sum = u32::from_str_radix(fields.next()?, 16).ok()?;
        if !ours || sum != crc32fast::hash(json.as_bytes()) {
            return None;
        }
        let value = serde_json::from_str(json).ok()?;
        Some(State {
            value: Arc::new(value),
            at,
            saved: at.seq,
        })
    }

    /// Without it the next start has more to read, nothing else: a failure is no error.
    fn save_projection<P: Projection>(&self, state: &mut State<P>) {
        if self.writer.is_none() {
            return;
        }
        let Ok(json) = serde_json::to_string(&*state.value) else {
            return;
        };
        let sum = crc32fast::hash(json.as_bytes());
        let Mark { seq, sum: last } = state.at;
        let text = format!("{HEAD} {} {seq} {last:08x} {sum:08x}\n{json}", P::VERSION);
        let path = self.projection_file::<P>();
        if write_private(&path, &text).is_ok() {
            state.saved = seq;
        }
    }
}

fn apply<P: Projection>(value: &mut P, folder: &Path, entry: &Entry) -> Result<(), StoreError> {
    match Change::of(folder, entry) {
        Some(change) if P::SOURCES.contains(&change.table) => value.apply(&change),
        _ => Ok(()),
    }
}

#[cfg(test)]
#[path = "projection_tests.rs"]
mod tests;
