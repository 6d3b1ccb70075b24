//! The names under which things lie, each in the space of its table.
//!
//! `r/TABLE/KEY` for records, `e/TABLE/LOG/SEQ` for events, SEQ with so many zeros in front that
//! the order of names is the order of numbers.

use super::StoreError;

/// Longest name in bytes.
const NAME_MAX: usize = 512;

/// A full name, or the beginning that the names of a table or log share.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Key(String);

impl Key {
    pub(super) fn record(table: &str, key: &str) -> Result<Self, StoreError> {
        Ok(Self(format!("r/{}/{}", part(table)?, name(key)?)))
    }

    pub(super) fn records(table: &str) -> Result<Self, StoreError> {
        Ok(Self(format!("r/{}/", part(table)?)))
    }

    pub(super) fn event(table: &str, log: &str, seq: u64) -> Result<Self, StoreError> {
        // 20 digits hold every u64.
        Ok(Self(format!("e/{}/{}/{seq:020}", part(table)?, part(log)?)))
    }

    pub(super) fn events(table: &str, log: &str) -> Result<Self, StoreError> {
        Ok(Self(format!("e/{}/{}/", part(table)?, part(log)?)))
    }

    pub(super) fn logs(table: &str) -> Result<Self, StoreError> {
        Ok(Self(format!("e/{}/", part(table)?)))
    }

    pub(super) fn as_str(&self) -> &str {
        &self.0
    }
}

fn name(text: &str) -> Result<&str, StoreError> {
    let reason = if text.is_empty() {
        tr!("it is empty")
    } else if text.len() > NAME_MAX {
        tr!("it is longer than 512 bytes")
    } else if text.chars().any(|c| c.is_whitespace() || c.is_control()) {
        // The journal separates its fields by blanks and its entries by line breaks.
        tr!("it holds blanks or control characters")
    } else {
        return Ok(text);
    };
    Err(StoreError::Name {
        name: shown(text),
        reason,
    })
}

fn part(text: &str) -> Result<&str, StoreError> {
    if text.contains('/') {
        return Err(StoreError::Name {
            name: shown(text),
            reason: tr!("it holds a slash"),
        });
    }
    name(text)
}

/// At most 60 characters, none of which steers a terminal.
fn shown(text: &str) -> String {
    text.chars()
        .take(60)
        .map(|c| if c.is_control() { '?' } else { c })
        .collect()
}
