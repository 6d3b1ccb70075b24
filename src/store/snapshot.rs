//! The store as its journal tells it, in memory: for reading where nothing may be written.
//!
//! Another process may be writing meanwhile: a last line that is not whole yet is not there yet.

use std::collections::BTreeMap;
use std::ops::Bound;
use std::path::Path;

use super::journal::{self, Entry};
use super::waiting::{self, Taken};
use super::{StoreError, second, value};

/// Every value that stands, as the database would give it.
#[derive(Debug, Default)]
pub(super) struct Snapshot {
    values: BTreeMap<String, Vec<u8>>,
    /// The same of what can be computed again.
    disposable: BTreeMap<String, Vec<u8>>,
    /// Lines of the journal that could not be read.
    pub(super) bad: usize,
}

impl Snapshot {
    /// Of journal and copy together.
    pub(super) fn of_journal(folder: &Path) -> Result<Self, StoreError> {
        let contents = second::read(folder)?;
        let mut snapshot = Self {
            bad: contents.bad,
            ..Self::default()
        };
        for entry in contents.entries {
            snapshot.carry(entry);
        }
        Ok(snapshot)
    }

    /// With what second windows have kept and nobody has taken in yet.
    pub(super) fn of_home(folder: &Path) -> Result<Self, StoreError> {
        let mut snapshot = Self::of_journal(folder)?;
        for path in waiting::files(folder) {
            // Where it has been taken in and cleared away meanwhile, the journal has it, for the next look.
            if let Ok(contents) = journal::read(&path) {
                let taken = Taken::of(folder, &path, |key| snapshot.get(key, false));
                snapshot.bad += contents.bad;
                let news = contents.entries.into_iter();
                news.filter(|e| e.seq > taken.seq)
                    .for_each(|e| snapshot.carry(e));
            }
        }
        Ok(snapshot)
    }

    pub(super) fn carry(&mut self, entry: Entry) {
        let (values, key) = match entry.key.strip_prefix(waiting::DISPOSABLE) {
            Some(key) => (&mut self.disposable, key),
            None => (&mut self.values, entry.key.as_str()),
        };
        match entry.json {
            Some(json) => {
                let raw = value::wrap(key, entry.version, &json);
                values.insert(key.to_owned(), raw);
            }
            None => {
                values.remove(key);
            }
        }
    }

    pub(super) fn get(&self, key: &str, disposable: bool) -> Option<Vec<u8>> {
        self.table(disposable).get(key).cloned()
    }

    fn table(&self, disposable: bool) -> &BTreeMap<String, Vec<u8>> {
        match disposable {
            true => &self.disposable,
            false => &self.values,
        }
    }

    pub(super) fn scan(&self, prefix: &str, disposable: bool) -> Vec<(String, Vec<u8>)> {
        self.from(prefix, disposable)
            .take_while(|(key, _)| key.starts_with(prefix))
            .map(|(key, raw)| (key.clone(), raw.clone()))
            .collect()
    }

    /// The parts that follow `prefix` up to the next slash, each once.
    pub(super) fn children(&self, prefix: &str, disposable: bool) -> Vec<String> {
        let mut found: Vec<String> = self
            .from(prefix, disposable)
            .map_while(|(key, _)| key.strip_prefix(prefix)?.split_once('/'))
            .map(|(child, _)| child.to_owned())
            .collect();
        found.dedup();
        found
    }

    /// Everything, as entries without numbers.
    pub(super) fn entries(&self) -> Vec<Entry> {
        let all = self.values.iter();
        all.filter_map(|(key, raw)| Entry::of(key, raw)).collect()
    }

    fn from(&self, prefix: &str, disposable: bool) -> impl Iterator<Item = (&String, &Vec<u8>)> {
        let from = Bound::Included(prefix.to_owned());
        self.table(disposable).range((from, Bound::Unbounded))
    }
}
