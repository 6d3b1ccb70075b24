//! What came back, compared with what was sent.

use super::brought::CoachImport;
use super::gathered::gather;
use super::merge::Merge;
use super::send::{CoachExport, written};
use crate::attempt::{Attempt, Coached, FoldError};
use crate::board::Line;
use crate::tree::NodeId;
use crate::tree::pgn::{Game, games_as_they_stand};

/// Why a game is not the answer to an attempt.
#[derive(Debug, thiserror::Error)]
pub enum Refused {
    #[error("{}", tr!("it begins in another position than attempt {0}: this is another game", _0))]
    OtherPosition(String),
    #[error("{}", tr!("it has none of the moves that were written in attempt {0}: this is another game", _0))]
    OtherMoves(String),
    #[error("{}", tr!("attempt {0} is not locked: it was never sent", _0))]
    NotLocked(String),
    #[error("{}", tr!("the coach's lines do not fit into the attempt: {0}", _0))]
    Full(#[from] FoldError),
}

/// Fewest moves of an attempt by which a game is known again as its answer; with fewer, anybody's tree may hold them.
const KNOWN_BY: usize = 4;

/// Whether a game holds all legal moves that were written in an attempt, and so many that it is no accident: what
/// somebody else wrote on the same position does not.
#[must_use]
pub fn holds_all(game: &Game, attempt: &Attempt) -> bool {
    let mut coached = Coached::new(attempt.tree());
    let written = coached.tree().nodes();
    let own: Vec<NodeId> = written
        .map(|(id, _)| id)
        .filter(|id| attempt.tree().stands(*id) && attempt.tree().legal(*id).is_some())
        .collect();
    // What does not fit into a tree is no answer to it.
    let Ok(back) = gather(game, &mut coached, "") else {
        return false;
    };
    own.len() >= KNOWN_BY && own.iter().all(|id| back.places.contains_key(id))
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
) -> Result<CoachImport, Refused> {
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
    let homework = coached.homework_told().to_vec();
    let letter = CoachExport {
        attempt,
        id,
        player: None,
        told: &told,
        homework: &homework,
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
        taken: CoachImport::new(id, by),
    }
    .taken())
}
