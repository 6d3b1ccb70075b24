//! What came back, compared with what was sent.

use serde::Serialize;

use super::gathered::gather;
use super::merge::Merge;
use super::send::{Letter, written};
use crate::attempt::{Attempt, Coached, FoldError, What};
use crate::board::Line;
use crate::tree::pgn::{Game, games_as_they_stand};

/// What a coach's file brought, to be appended to the attempt and to be told.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Taken {
    pub attempt: String,
    /// The coach's name.
    pub by: String,
    /// New lines, in SAN from the root to their ends.
    pub lines: Vec<Vec<String>>,
    /// New verdicts and glyphs, as sentences.
    pub judged: Vec<String>,
    /// New words: moves from the root, and what he says.
    pub said: Vec<(Vec<String>, String)>,
    /// Findings he struck, as sentences.
    pub overruled: Vec<String>,
    /// Findings he let stand again.
    pub upheld: Vec<String>,
    /// Moves from the root to positions he set as homework.
    pub homework: Vec<Vec<String>>,
    /// What could not be taken, or stands against what was sent.
    pub conflicts: Vec<String>,
    /// What the file no longer has; it stays in the attempt.
    pub kept: Vec<String>,
    /// What to append to the attempt's log.
    #[serde(skip)]
    pub events: Vec<What>,
}

impl Taken {
    /// True where there is nothing to append.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.events.is_empty()
    }
}

/// Why a game is not the answer to an attempt.
#[derive(Debug, thiserror::Error)]
pub enum Refused {
    #[error("it begins in another position than attempt {0}: this is another game")]
    OtherPosition(String),
    #[error("it has none of the moves that were written in attempt {0}: this is another game")]
    OtherMoves(String),
    #[error("attempt {0} is not locked: it was never sent")]
    NotLocked(String),
    #[error("the coach's lines do not fit into the attempt: {0}")]
    Full(#[from] FoldError),
}

/// Compares a game with the attempt it answers. `game` is read as it stands
/// ([`games_as_they_stand`]); `by` is the coach's name and `wall_ms` the time, both for the events.
///
/// # Errors
/// The game is not an answer to this attempt, or has more than a tree can hold.
pub fn compare(
    game: &Game,
    (id, attempt): (&str, &Attempt),
    by: &str,
    wall_ms: i64,
) -> Result<Taken, Refused> {
    let refused = |f: fn(String) -> Refused| Err(f(id.to_owned()));
    if attempt.locked_ms().is_none() {
        return refused(Refused::NotLocked);
    }
    if Line::new(game.start.clone()).key() != attempt.tree().root().key() {
        return refused(Refused::OtherPosition);
    }
    let mut coached = match attempt.coached() {
        Some(coached) => coached.clone(),
        None => Coached::new(attempt.tree()),
    };
    let told = coached.told().to_vec();
    let letter = Letter {
        attempt,
        id,
        player: None,
        told: &told,
    };
    let before = coached.tree().len();
    let sent = match games_as_they_stand(&written(&letter)).next() {
        // What we write can be read, and has no move that the tree has not.
        Some(Ok(game)) => gather(&game, &mut coached, by)?,
        _ => return refused(Refused::OtherMoves),
    };
    debug_assert_eq!(coached.tree().len(), before);
    let back = gather(game, &mut coached, by)?;
    let known = sent.places.keys().filter(|n| n.0 > 0);
    let (all, found) = known.fold((0, 0), |(all, found), n| {
        (all + 1, found + usize::from(back.places.contains_key(n)))
    });
    if all > 0 && found == 0 {
        return refused(Refused::OtherMoves);
    }
    Ok(Merge {
        attempt,
        coached,
        by,
        wall_ms,
        sent,
        back,
        taken: Taken::new(id, by),
    }
    .taken())
}

impl Taken {
    fn new(id: &str, by: &str) -> Self {
        Self {
            attempt: id.to_owned(),
            by: by.to_owned(),
            lines: Vec::new(),
            judged: Vec::new(),
            said: Vec::new(),
            overruled: Vec::new(),
            upheld: Vec::new(),
            homework: Vec::new(),
            conflicts: Vec::new(),
            kept: Vec::new(),
            events: Vec::new(),
        }
    }
}
