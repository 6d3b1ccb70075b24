//! What the player himself thinks of a game, before any engine speaks of it.
//!
//! Takes what he says, mark by mark, and a judged game; gives the record that is kept ([`Thoughts`]), the turning points
//! of the game ([`turning`]) and the two side by side ([`compare`]).
//!
//! # Definitions
//!
//! - **Moment**: a position with the player to move, marked by him as one that decided the game.
//! - **Turning point**: a half-move of either side that gave away delta (.10) or more of the expected score where not
//!   all was decided; those within two half-moves of each other are one, because they have one cause (common practice,
//!   no source).
//! - **Recognised**: a moment of his lies within two half-moves of the turning point. Each moment recognises one, the
//!   nearest first.
//! - **Critical**: no turning point, but the second-best move was delta or more worse and he found the best. To mark it
//!   is right; not to mark it is no miss.
//! - **None**: any other moment of his.
//! - **A fear was real** where the reply that his words name was possible after his move and left him at most .05 (half of
//!   delta) better than the best reply does.
//!
//! Must never know: the attempt behind a moment, except its name.

pub mod compare;
pub mod turning;

use serde::{Deserialize, Serialize};

use crate::store::Record;
use crate::tree::Verdict;

/// Moments of one game.
pub const MARKS_MAX: usize = 12;
/// Characters of one text.
pub const WORDS_MAX: usize = 600;

/// All that he thinks of one game; it lies under the game's identifier.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Thoughts {
    /// Wall-clock time of the first word and of the lock, milliseconds since 1970-01-01 UTC.
    pub begun_ms: i64,
    pub locked_ms: Option<i64>,
    /// In the order of the game.
    pub marks: Vec<ThoughtMark>,
    /// One sentence on the game.
    pub sentence: String,
    /// The judge had spoken of the game before the first word: kept, never counted.
    #[serde(default)]
    pub late: bool,
}

/// One moment.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, schemars::JsonSchema)]
pub struct ThoughtMark {
    /// The half-move that he played there; 0 is the first of the game.
    pub ply: usize,
    /// How he felt about the position.
    pub verdict: Option<Verdict>,
    /// What he was afraid of.
    pub feared: String,
    /// The attempt that holds what he saw there.
    pub attempt: Option<String>,
}

impl Record for Thoughts {
    const TABLE: &'static str = "own-thoughts";
    const VERSION: u32 = 1;
}

/// One thing that he says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Thought {
    Mark(usize),
    Unmark(usize),
    /// `None` takes the verdict back.
    Verdict(usize, Option<Verdict>),
    /// Empty takes it back, as with the sentence.
    Feared(usize, String),
    /// The attempt that holds what he saw.
    Saw(usize, String),
    Sentence(String),
}

/// Why something cannot be said.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ThoughtError {
    #[error("{}", tr!("your thoughts on this game are locked; nothing can be changed any more"))]
    Locked,
    #[error("{}", tr!("{MARKS_MAX} moments are marked already; take one away first"))]
    TooMany,
    #[error("{}", tr!("{0} characters are too many; at most {WORDS_MAX} are kept, so say it shorter", _0))]
    TooLong(usize),
    #[error("{}", tr!("nothing is marked there"))]
    NotMarked,
    #[error("{}", tr!("mark a moment or write your sentence on the game first: there is nothing to lock"))]
    Nothing,
}

impl Thoughts {
    /// Takes in one thing; what is said about a moment marks it.
    ///
    /// # Errors
    /// They are locked, or it is too much; nothing has changed then.
    pub fn say(&mut self, thought: Thought) -> Result<(), ThoughtError> {
        if self.locked_ms.is_some() {
            return Err(ThoughtError::Locked);
        }
        match thought {
            Thought::Mark(ply) => drop(self.mark(ply)?),
            Thought::Unmark(ply) => {
                let before = self.marks.len();
                self.marks.retain(|m| m.ply != ply);
                if self.marks.len() == before {
                    return Err(ThoughtError::NotMarked);
                }
            }
            Thought::Verdict(ply, verdict) => self.mark(ply)?.verdict = verdict,
            Thought::Feared(ply, words) => {
                let words = short(&words)?;
                self.mark(ply)?.feared = words;
            }
            Thought::Saw(ply, attempt) => self.mark(ply)?.attempt = Some(attempt),
            Thought::Sentence(words) => self.sentence = short(&words)?,
        }
        Ok(())
    }

    /// The moment at a half-move; marked now where it was not.
    fn mark(&mut self, ply: usize) -> Result<&mut ThoughtMark, ThoughtError> {
        let at = self.marks.partition_point(|m| m.ply < ply);
        if self.marks.get(at).is_none_or(|m| m.ply != ply) {
            if self.marks.len() >= MARKS_MAX {
                return Err(ThoughtError::TooMany);
            }
            let mark = ThoughtMark {
                ply,
                ..ThoughtMark::default()
            };
            self.marks.insert(at, mark);
        }
        self.marks.get_mut(at).ok_or(ThoughtError::NotMarked)
    }

    /// The moment at a half-move.
    #[must_use]
    pub fn at(&self, ply: usize) -> Option<&ThoughtMark> {
        self.marks.iter().find(|m| m.ply == ply)
    }

    /// Makes them final.
    ///
    /// # Errors
    /// They are final already, or there is nothing in them.
    pub fn lock(&mut self, wall_ms: i64) -> Result<(), ThoughtError> {
        if self.locked_ms.is_some() {
            return Err(ThoughtError::Locked);
        }
        if self.marks.is_empty() && self.sentence.is_empty() {
            return Err(ThoughtError::Nothing);
        }
        self.locked_ms = Some(wall_ms);
        Ok(())
    }

    /// Nothing is in them.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.marks.is_empty() && self.sentence.is_empty()
    }
}

fn short(words: &str) -> Result<String, ThoughtError> {
    let words = words.trim();
    match words.chars().count() {
        n if n > WORDS_MAX => Err(ThoughtError::TooLong(n)),
        _ => Ok(words.to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_of_a_moment_marks_it_and_keeps_the_order_of_the_game() {
        let mut thoughts = Thoughts::default();
        thoughts.say(Thought::Mark(40)).unwrap();
        let fear = Thought::Feared(12, "  Bxh7+ and the attack ".to_owned());
        thoughts.say(fear).unwrap();
        thoughts.say(Thought::Mark(40)).unwrap();
        let plies: Vec<usize> = thoughts.marks.iter().map(|m| m.ply).collect();
        assert_eq!(plies, [12, 40]);
        assert_eq!(thoughts.at(12).unwrap().feared, "Bxh7+ and the attack");
        thoughts.say(Thought::Unmark(12)).unwrap();
        assert_eq!(
            thoughts.say(Thought::Unmark(12)),
            Err(ThoughtError::NotMarked)
        );
    }

    #[test]
    fn locked_thoughts_do_not_change() {
        let mut thoughts = Thoughts::default();
        assert_eq!(thoughts.lock(1), Err(ThoughtError::Nothing));
        thoughts
            .say(Thought::Sentence("I saw ghosts.".to_owned()))
            .unwrap();
        thoughts.lock(5).unwrap();
        let kept = thoughts.clone();
        assert_eq!(thoughts.say(Thought::Mark(3)), Err(ThoughtError::Locked));
        assert_eq!(thoughts.lock(6), Err(ThoughtError::Locked));
        assert_eq!(thoughts, kept);
    }

    #[test]
    fn there_is_an_end_to_marks_and_words() {
        let mut thoughts = Thoughts::default();
        for ply in 0..MARKS_MAX {
            thoughts.say(Thought::Mark(2 * ply)).unwrap();
        }
        assert_eq!(thoughts.say(Thought::Mark(99)), Err(ThoughtError::TooMany));
        let long = "x".repeat(WORDS_MAX + 1);
        let said = thoughts.say(Thought::Sentence(long));
        assert_eq!(said, Err(ThoughtError::TooLong(WORDS_MAX + 1)));
    }
}
