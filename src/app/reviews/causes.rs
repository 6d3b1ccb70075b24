//! 'Why I missed it': the player's list of causes.

use std::collections::HashSet;

use serde::{Deserialize, Serialize};

use crate::app::AppError;
use crate::app::Clock;
use crate::app::attempts::repository::AttemptRepository;
use crate::progress::causes::{OFFERED, plain};
use crate::store::Record;
use std::sync::Arc;

/// Most causes in the list; one digit names each.
pub const CAUSES_MAX: usize = 9;
/// Longest cause in characters.
const LONGEST: usize = 60;

/// A cause of his own, or one that he does not want to be offered any more.
#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct Cause {
    text: String,
    /// When it was named, milliseconds since 1970-01-01 UTC.
    wall_ms: i64,
    /// He has taken it off his list. What he explained with it keeps it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    gone: bool,
}

impl Record for Cause {
    const TABLE: &'static str = "causes";
    const VERSION: u32 = 1;
}

/// The player's list of causes.
#[derive(Clone)]
pub struct CauseService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) clock: Arc<dyn Clock>,
}

impl CauseService {
    /// His causes: those he named himself first, the newest first, then those that are offered.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn all(&self) -> Result<Vec<String>, AppError> {
        let mut own: Vec<Cause> = self.repository.scan()?;
        own.sort_by_key(|c| std::cmp::Reverse(c.wall_ms));
        let (gone, own): (Vec<Cause>, Vec<Cause>) = own.into_iter().partition(|c| c.gone);
        let gone: HashSet<String> = gone.iter().map(|c| plain(&c.text)).collect();
        let own = own.into_iter().map(|c| c.text);
        let mut all: Vec<String> = own.chain(OFFERED.map(|c| c.words.to_owned())).collect();
        let mut seen = HashSet::new();
        all.retain(|c| seen.insert(plain(c)) && !gone.contains(&plain(c)));
        all.truncate(CAUSES_MAX);
        Ok(all)
    }

    /// Puts a cause of his own on the list; gives it as it is kept.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn add(&self, text: &str) -> Result<String, AppError> {
        let text: String = text.trim().chars().take(LONGEST).collect();
        self.keep_cause(&text, false)?;
        Ok(text)
    }

    /// Takes a cause off the list, one that is offered as well. Attempts that were explained with it keep it.
    ///
    /// # Errors
    /// It could not be kept.
    pub fn remove(&self, text: &str) -> Result<(), AppError> {
        self.keep_cause(text, true)
    }

    /// Puts other words in the place of a cause; gives them as they are kept.
    ///
    /// # Errors
    /// They could not be kept.
    pub fn reword(&self, old: &str, new: &str) -> Result<String, AppError> {
        let new = self.add(new)?;
        if plain(old) != plain(&new) {
            self.remove(old)?;
        }
        Ok(new)
    }

    /// Causes that are not on his list any more, as [`plain`] words.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(crate) fn removed(&self) -> Result<HashSet<String>, AppError> {
        let all: Vec<Cause> = self.repository.scan()?;
        let gone = all.iter().filter(|c| c.gone);
        Ok(gone.map(|c| plain(&c.text)).collect())
    }

    fn keep_cause(&self, text: &str, gone: bool) -> Result<(), AppError> {
        let cause = Cause {
            text: text.to_owned(),
            wall_ms: self.clock.wall_ms(),
            gone,
        };
        // Names in the store hold no blanks; the same words twice are one cause.
        let name = crc32fast::hash(text.to_lowercase().as_bytes());
        self.repository.put(&format!("{name:08x}"), &cause)
    }
}

#[cfg(test)]
mod tests {
    use crate::app::testing::app::Trial;

    #[test]
    fn a_cause_goes_from_the_list_and_comes_back() {
        let trial = Trial::usual();
        let app = &trial.app;
        let offered = app.causes().all().unwrap();
        app.causes().add("was tired").unwrap();
        app.causes().remove(&offered[0]).unwrap();
        let now = app.causes().all().unwrap();
        assert_eq!(now[0], "was tired");
        assert_eq!(now[1..], offered[1..]);
        app.causes().reword("was tired", "slept badly").unwrap();
        assert_eq!(app.causes().all().unwrap()[0], "slept badly");
        assert_eq!(app.causes().all().unwrap()[1..], offered[1..]);
        // Only the case is another: it stays on the list.
        app.causes().reword("slept badly", "Slept badly").unwrap();
        assert_eq!(app.causes().all().unwrap()[0], "Slept badly");
        app.causes().add(&offered[0]).unwrap();
        assert!(app.causes().all().unwrap().contains(&offered[0]));
        assert_eq!(app.causes().removed().unwrap().len(), 1);
    }
}
