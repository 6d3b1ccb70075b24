//! What is said of things that are no finding: what held, how deep it had to go, and what could not be judged.

use crate::review::model::measures::Depth;

/// How deep the calculation had to go, went, and held, in a sentence.
#[must_use]
pub fn depth_words(depth: &Depth) -> String {
    let reached = format!("{} reached", depth.reached);
    let sound = match depth.sound {
        0 => "none sound".to_owned(),
        n => format!("{n} sound"),
    };
    match depth.needed {
        // Nothing was chosen that could be judged.
        0 => format!("Depth in half-moves: {reached}, {sound}."),
        1 => format!(
            "Depth in half-moves: {reached}, {sound}. Nothing forcing was to be calculated."
        ),
        n => format!("Depth in half-moves: {n} needed, {reached}, {sound}."),
    }
}

pub(in super::super) fn right_choice(choice: &str) -> String {
    format!("You chose {choice}: nothing better was there.")
}

pub(in super::super) fn right_candidate(candidate: &str) -> String {
    format!("You had {candidate} among your candidates: the best move was on your list.")
}

pub(in super::super) fn right_reply(reply: &str, way: &str) -> String {
    format!("You saw {reply} after {way}: his best reply, and the one that matters.")
}

pub(in super::super) fn right_verdict(way: &str) -> String {
    format!("You judged the end of {way} rightly.")
}

pub(in super::super) fn right_legal(ply: usize) -> String {
    match ply {
        1 => "Your moves can be played as you wrote them.".to_owned(),
        n => format!("Your longest line, {n} half-moves, can be played as you wrote it."),
    }
}

pub(in super::super) fn ambiguous(text: &str, meanings: usize) -> String {
    format!("'{text}' can mean {meanings} different moves")
}

pub(in super::super) fn unplaced(parent: &str) -> String {
    format!("it follows {parent}, which cannot be set on the board")
}

pub(in super::super) fn pass_in_check() -> String {
    "nobody can pass while in check".to_owned()
}

pub(in super::super) fn nothing_noted() -> String {
    "below the pass stands no move that could be played then".to_owned()
}
