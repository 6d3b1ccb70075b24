//! Records that cannot be read: each is told and passed over, and everything else goes on.
//!
//! Their bytes are as they were written, only nobody here understands them: a newer program has written them, or a
//! stranger has forged them. They stay where they are, and go into every backup.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::{Store, StoreError};

/// What was passed over since the store was opened: a handle that outlives the store.
#[derive(Debug, Clone, Default)]
pub struct SetAside(Arc<Mutex<BTreeMap<String, String>>>);

impl SetAside {
    /// A sentence for each, in the order of their names.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        // A sentence is only ever put in whole.
        let all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        all.iter()
            .map(|(what, why)| {
                tr!("{what} is left out, since it cannot be read ({why}); it stays where it is.")
            })
            .collect()
    }

    /// Adds one, by its name in the store.
    pub fn add(&self, what: &str, why: String) {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        all.entry(what.to_owned()).or_insert(why);
    }
}

impl Store {
    /// What was passed over so far.
    #[must_use]
    pub fn set_aside(&self) -> &SetAside {
        &self.set_aside
    }

    /// The value, or `None` where it cannot be read, which is noted.
    pub(super) fn readable<T>(&self, key: &str, read: Result<T, StoreError>) -> Option<T> {
        let why = |e: &StoreError| match e {
            StoreError::Unreadable { reason, .. } => reason.clone(),
            other => other.brief(),
        };
        read.inspect_err(|e| self.set_aside.add(&named(key), why(e)))
            .ok()
    }

    /// The error for one event of a log.
    pub(super) fn unreadable(&self, key: &str, why: &str) -> StoreError {
        StoreError::Unreadable {
            path: self.folder.clone(),
            what: named(key),
            reason: why.to_owned(),
        }
    }
}

/// `r/TABLE/KEY` and `e/TABLE/LOG/SEQ` as a sentence has them.
pub(super) fn named(key: &str) -> String {
    let mut parts = key.splitn(3, '/');
    match (parts.next(), parts.next(), parts.next()) {
        (Some("r" | "e"), Some(table), Some(name)) => {
            let name = match name.rsplit_once('/') {
                Some((log, seq)) if key.starts_with("e/") => {
                    let seq = seq.trim_start_matches('0');
                    tr!(
                        "event {} of '{log}'",
                        if seq.is_empty() { "0" } else { seq }
                    )
                }
                _ => format!("'{name}'"),
            };
            tr!("{name} in the table '{table}'")
        }
        _ => format!("'{key}'"),
    }
}

impl StoreError {
    /// Why something cannot be read, without where it lies.
    #[must_use]
    pub fn brief(&self) -> String {
        match self {
            Self::Newer { .. } => tr!("a newer version of this program has written it").to_owned(),
            Self::Older { .. } => tr!("an old version of this program has written it").to_owned(),
            Self::Unreadable { what, reason, .. } => format!("{what}: {reason}"),
            Self::Damaged { reason, .. } => reason.clone(),
            other => other.to_string(),
        }
    }
}
