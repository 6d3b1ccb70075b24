//! From where values are read: the database, or the journal alone where the store may only be read.

use std::sync::{PoisonError, RwLock, RwLockReadGuard};

use super::StoreError;
use super::base::Base;
use super::journal::Entry;
use super::snapshot::Snapshot;

#[derive(Debug)]
pub(super) enum Source {
    Base(Base),
    /// Of what can be computed again it holds only what this window has computed.
    Snapshot(RwLock<Snapshot>),
}

impl Source {
    pub(super) fn snapshot(snapshot: Snapshot) -> Self {
        Self::Snapshot(RwLock::new(snapshot))
    }

    /// Changes what is held in memory; a database is changed by its own steps.
    pub(super) fn change(&self, change: impl FnOnce(&mut Snapshot)) {
        if let Self::Snapshot(snapshot) = self {
            change(&mut snapshot.write().unwrap_or_else(PoisonError::into_inner));
        }
    }

    pub(super) fn get(&self, key: &str, disposable: bool) -> Result<Option<Vec<u8>>, StoreError> {
        match self {
            Self::Base(base) => base.get(key, disposable),
            Self::Snapshot(snapshot) => Ok(read(snapshot).get(key, disposable)),
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
            Self::Snapshot(snapshot) => Ok(read(snapshot).scan(prefix, disposable)),
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
            Self::Snapshot(snapshot) => Ok(read(snapshot).children(prefix, disposable)),
        }
    }

    /// All that is kept, as entries without numbers.
    pub(super) fn entries(&self) -> Result<Vec<Entry>, StoreError> {
        match self {
            Self::Base(base) => base.entries(),
            Self::Snapshot(snapshot) => Ok(read(snapshot).entries()),
        }
    }
}

fn read(snapshot: &RwLock<Snapshot>) -> RwLockReadGuard<'_, Snapshot> {
    // Values are only put in whole.
    snapshot.read().unwrap_or_else(PoisonError::into_inner)
}
