//! What he takes away from an event, in his own words, at most three.

use serde::{Deserialize, Serialize};

use super::countable::Countable;
use crate::store::Record;

/// Takeaways of one event, and characters of one.
pub const TAKEAWAYS_MAX: usize = 3;
pub const WORDS_MAX: usize = 300;

/// One of them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Takeaway {
    pub words: String,
    /// What tells whether it held; `None` where nothing is counted.
    pub tied: Option<Countable>,
}

/// Those of one event; they lie under its identifier.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, schemars::JsonSchema)]
pub struct EventTakeaways {
    /// Wall-clock time of the last change, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    /// Name and last date of the event, so that they can be told without its games.
    pub event: String,
    pub until: String,
    pub takeaways: Vec<Takeaway>,
}

impl Record for EventTakeaways {
    const TABLE: &'static str = "event-takeaways";
    const VERSION: u32 = 1;
}

impl EventTakeaways {
    /// Adds one.
    ///
    /// # Errors
    /// There are three already, or it is empty or too long.
    pub fn add(&mut self, words: &str, tied: Option<Countable>) -> Result<(), String> {
        let words = words.trim();
        let length = words.chars().count();
        if words.is_empty() {
            return Err(tr!("a takeaway of no words").to_owned());
        }
        if length > WORDS_MAX {
            return Err(tr!(
                "{length} characters are too many; at most {WORDS_MAX} are kept, so say it shorter"
            ));
        }
        if self.takeaways.len() >= TAKEAWAYS_MAX {
            return Err(tr!(
                "there are three takeaways already; take one away first with --drop NUMBER"
            )
            .to_owned());
        }
        self.takeaways.push(Takeaway {
            words: words.to_owned(),
            tied,
        });
        Ok(())
    }

    /// Takes one away by its number, the first being 1.
    ///
    /// # Errors
    /// There is none of this number.
    pub fn drop(&mut self, number: usize) -> Result<(), String> {
        let at = number
            .checked_sub(1)
            .filter(|at| *at < self.takeaways.len());
        match at {
            Some(at) => {
                self.takeaways.remove(at);
                Ok(())
            }
            None => Err(tr!("there is no takeaway {number}")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_and_no_more() {
        let mut of = EventTakeaways::default();
        for words in [
            "Checks first.",
            "  Twenty minutes at move 30. ",
            "No second look.",
        ] {
            of.add(words, Some(Countable::Converted)).unwrap();
        }
        assert!(of.add("More.", None).unwrap_err().contains("--drop"));
        of.drop(2).unwrap();
        assert!(of.drop(3).is_err() && of.drop(0).is_err());
        assert!(of.add(" ", None).is_err());
        assert!(of.add(&"x".repeat(WORDS_MAX + 1), None).is_err());
        let words: Vec<&str> = of.takeaways.iter().map(|t| t.words.as_str()).collect();
        assert_eq!(words, ["Checks first.", "No second look."]);
    }
}
