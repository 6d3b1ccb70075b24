//! The store as its journal tells it, in memory: for reading where nothing may be written.
//!
//! Another process may be writing meanwhile: a last line that is not whole yet is not there yet.

use std::collections::BTreeMap;
use std::ops::Bound;
use std::path::Path;

use super::journal::Entry;
use super::{StoreError, second, value};

/// Every value that stands, as the database would give it.
#[derive(Debug, Default)]
pub(super) struct Snapshot {
    values: BTreeMap<String, Vec<u8>>,
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

    fn carry(&mut self, entry: Entry) {
        match entry.json {
            Some(json) => {
                let raw = value::wrap(&entry.key, entry.version, &json);
                self.values.insert(entry.key, raw);
            }
            None => {
                self.values.remove(&entry.key);
            }
        }
    }

    pub(super) fn get(&self, key: &str) -> Option<Vec<u8>> {
        self.values.get(key).cloned()
    }

    pub(super) fn scan(&self, prefix: &str) -> Vec<(String, Vec<u8>)> {
        self.from(prefix)
            .take_while(|(key, _)| key.starts_with(prefix))
            .map(|(key, raw)| (key.clone(), raw.clone()))
            .collect()
    }

    /// The parts that follow `prefix` up to the next slash, each once.
    pub(super) fn children(&self, prefix: &str) -> Vec<String> {
        let mut found: Vec<String> = self
            .from(prefix)
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

    fn from(&self, prefix: &str) -> impl Iterator<Item = (&String, &Vec<u8>)> {
        let from = Bound::Included(prefix.to_owned());
        self.values.range((from, Bound::Unbounded))
    }
}
