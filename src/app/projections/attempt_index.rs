//! All attempts and games in short.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use crate::app::attempts::records::{HistoryEntry, OpenAttempt};
use crate::app::playouts::records::GameSummary;
use crate::progress::{AttemptStatistics, Sighted};
use crate::store::{Change, Projection, Record, StoreError};

/// Everything that is counted of attempts and games, each under its name; names sort by time.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub(crate) struct AttemptIndex {
    /// Sittings that were begun and neither locked nor put aside.
    pub(crate) begun: BTreeSet<String>,
    /// A row for each locked attempt.
    pub(crate) history: BTreeMap<String, HistoryEntry>,
    /// The figures of each reviewed attempt.
    pub(crate) statistics: BTreeMap<String, AttemptStatistics>,
    /// The name of the first attempt at each position.
    pub(crate) first_sights: BTreeMap<String, String>,
    /// Games played out.
    pub(crate) games: BTreeMap<String, GameSummary>,
}

impl Projection for AttemptIndex {
    const NAME: &'static str = "attempts";
    const VERSION: u32 = 1;
    const SOURCES: &'static [&'static str] = &[
        OpenAttempt::TABLE,
        HistoryEntry::TABLE,
        AttemptStatistics::TABLE,
        Sighted::TABLE,
        GameSummary::TABLE,
    ];

    fn apply(&mut self, change: &Change<'_>) -> Result<(), StoreError> {
        let key = change.key.to_owned();
        match change.table {
            OpenAttempt::TABLE => match change.record::<OpenAttempt>()? {
                Some(_) => drop(self.begun.insert(key)),
                None => drop(self.begun.remove(&key)),
            },
            HistoryEntry::TABLE => set(&mut self.history, key, change.record()?),
            AttemptStatistics::TABLE => set(&mut self.statistics, key, change.record()?),
            Sighted::TABLE => {
                let first = change.record::<Sighted>()?;
                set(&mut self.first_sights, key, first.map(|s| s.attempt));
            }
            GameSummary::TABLE => set(&mut self.games, key, change.record()?),
            _ => {}
        }
        Ok(())
    }
}

fn set<T>(rows: &mut BTreeMap<String, T>, key: String, row: Option<T>) {
    match row {
        Some(row) => drop(rows.insert(key, row)),
        None => drop(rows.remove(&key)),
    }
}
