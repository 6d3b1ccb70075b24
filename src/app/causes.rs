//! 'Why I missed it': the player's list of causes.

use serde::{Deserialize, Serialize};

use super::{App, AppError};
use crate::progress::causes::OFFERED;
use crate::store::Record;

/// Most causes in the list; one digit names each.
pub const CAUSES_MAX: usize = 9;
/// Longest cause in characters.
const LONGEST: usize = 60;

/// A cause of his own.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Cause {
    text: String,
    /// When it was named, milliseconds since 1970-01-01 UTC.
    wall_ms: i64,
}

impl Record for Cause {
    const TABLE: &'static str = "causes";
    const VERSION: u32 = 1;
}

impl App {
    /// His causes: those he named himself first, the newest first, then those that are offered.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn causes(&self) -> Result<Vec<String>, AppError> {
        let mut own: Vec<Cause> = self.kept.scan()?;
        own.sort_by_key(|c| std::cmp::Reverse(c.wall_ms));
        let own = own.into_iter().map(|c| c.text);
        let mut all: Vec<String> = own
            .chain(OFFERED.map(|(words, _)| words.to_owned()))
            .collect();
        let mut seen = std::collections::HashSet::new();
        all.retain(|c| seen.insert(c.clone()));
        all.truncate(CAUSES_MAX);
        Ok(all)
    }

    /// Puts a cause of his own on the list; gives it as it is kept.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn add_cause(&self, text: &str) -> Result<String, AppError> {
        let text: String = text.trim().chars().take(LONGEST).collect();
        let cause = Cause {
            text: text.clone(),
            wall_ms: self.wall_ms(),
        };
        // Names in the store hold no blanks; the same words twice are one cause.
        let name = crc32fast::hash(text.to_lowercase().as_bytes());
        self.kept.put(&format!("{name:08x}"), &cause)?;
        Ok(text)
    }
}
