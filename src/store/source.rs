//! From where values are read: the database, or the journal alone where the store may only be read.

use super::StoreError;
use super::base::Base;
use super::journal::Entry;
use super::snapshot::Snapshot;

#[derive(Debug)]
pub(super) enum Source {
    Base(Base),
    /// Holds nothing disposable: what can be computed again is computed again.
    Snapshot(Snapshot),
}

impl Source {
    pub(super) fn get(&self, key: &str, disposable: bool) -> Result<Option<Vec<u8>>, StoreError> {
        match self {
            Self::Base(base) => base.get(key, disposable),
            Self::Snapshot(snapshot) => Ok(snapshot.get(key)),
        }
    }

    /// Everything whose name begins with `prefix`, in the order of names.
    pub(super) fn scan(
        &self,
        prefix: &str,
        disposable: bool,
    ) -> Result<Vec<(String, Vec<u8>)>, StoreError> {
        match self {
            Self::Base(base) => base.scan(prefix, disposable),
            Self::Snapshot(snapshot) => Ok(snapshot.scan(prefix)),
        }
    }

    /// The parts that follow `prefix` up to the next slash, each once.
    pub(super) fn children(
        &self,
        prefix: &str,
        disposable: bool,
    ) -> Result<Vec<String>, StoreError> {
        match self {
            Self::Base(base) => base.children(prefix, disposable),
            Self::Snapshot(snapshot) => Ok(snapshot.children(prefix)),
        }
    }

    /// All that is kept, as entries without numbers.
    pub(super) fn entries(&self) -> Result<Vec<Entry>, StoreError> {
        match self {
            Self::Base(base) => base.entries(),
            Self::Snapshot(snapshot) => Ok(snapshot.entries()),
        }
    }
}
