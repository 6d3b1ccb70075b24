//! Notes in sentences.

use crate::review::model::notes::NoteKind;
use crate::review::model::verdicts::standing;
use crate::score::PlayerScore;
use crate::text;

/// A threat note. `of_opponent` tells whose threat it is; `told` is its line after the pass, `worth` what that
/// leaves the player.
pub(in super::super) fn threat_note(
    about: NoteKind,
    of_opponent: bool,
    (told, line): (&[String], &str),
    worth: PlayerScore,
) -> String {
    let (whose, who) = if of_opponent {
        (tr!("his"), tr!("he plays"))
    } else {
        (tr!("your"), tr!("you play"))
    };
    let threat = told.first().map_or("", String::as_str);
    let then = standing(worth);
    if about == NoteKind::ThreatHolds {
        tr!("You noted {whose} threat {threat}: it is one. Left alone {who} {line}. Then {then}.")
    } else {
        tr!(
            "You noted {whose} threat {threat}: it is none. Left alone {who} {line}. Then {then}, much as before."
        )
    }
}

pub(in super::super) fn mate_was_there(moves: i32, told: &str) -> String {
    let moves = text::number(usize::try_from(moves).unwrap_or(0));
    tr!("You win either way. Mate in {moves} was there: {told}.")
}

pub(in super::super) fn simpler(told: &str) -> String {
    tr!("You win either way. Simpler was {told}.")
}

pub(in super::super) fn longest_resistance(best: &str, longest: i32, sooner: i32) -> String {
    let words = |n: i32| text::number(usize::try_from(n).unwrap_or(0));
    tr!(
        "Every move loses. {best} holds out longest: mate comes in {} moves, after your choice in {}.",
        words(longest),
        words(sooner)
    )
}
