//! What is said of things that are no finding: what held, how deep it had to go, and what could not be judged.

use crate::review::model::measures::{Coverage, Depth, Focus};

/// How deep the calculation had to go, went, and held, in a sentence.
#[must_use]
pub fn depth_words(depth: &Depth) -> String {
    let reached = tr!("{} reached", depth.reached);
    let sound = match depth.sound {
        0 => tr!("none sound").to_owned(),
        n => tr!("{n} sound"),
    };
    match depth.needed {
        // Nothing was chosen that could be judged.
        0 => tr!("Depth in half-moves: {reached}, {sound}."),
        1 => tr!("Depth in half-moves: {reached}, {sound}. Nothing forcing was to be calculated."),
        n => tr!("Depth in half-moves: {n} needed, {reached}, {sound}."),
    }
}

/// How much of a sound calculation was written, in a sentence; nothing where there was none.
#[must_use]
pub fn coverage_words(coverage: &Coverage) -> String {
    match (coverage.written, coverage.of) {
        (_, 0) => String::new(),
        (0, 1) => tr!("Not written: the one move that a sound calculation contains.").to_owned(),
        (_, 1) => tr!("Written: the one move that a sound calculation contains.").to_owned(),
        (written, of) => {
            tr!("Written: {written} of the {of} moves that a sound calculation contains.")
        }
    }
}

/// How much of what was written matters, in a sentence; nothing where nothing was written.
#[must_use]
pub fn focus_words(focus: &Focus) -> String {
    match (focus.written, focus.of) {
        (_, 0) => String::new(),
        (0, 1) => tr!("The one written move does not matter.").to_owned(),
        (_, 1) => tr!("The one written move matters.").to_owned(),
        (1, of) => tr!("Of {of} written moves 1 matters."),
        (written, of) => tr!("Of {of} written moves {written} matter."),
    }
}

pub(in super::super) fn right_choice(choice: &str) -> String {
    tr!("You chose {choice}: nothing better was there.")
}

pub(in super::super) fn winning_choice(choice: &str) -> String {
    tr!("You chose {choice}: it wins too.")
}

pub(in super::super) fn right_candidate(candidate: &str) -> String {
    tr!("You had {candidate} among your candidates: the best move was on your list.")
}

pub(in super::super) fn right_reply(reply: &str, way: &str) -> String {
    tr!("You saw {reply} after {way}: his best reply, and the one that matters.")
}

pub(in super::super) fn right_verdict(way: &str) -> String {
    tr!("You judged the end of {way} rightly.")
}

pub(in super::super) fn right_legal(ply: usize) -> String {
    tr!(ply; "Your moves can be played as you wrote them." | "Your longest line, {} half-moves, can be played as you wrote it.", ply)
}

pub(in super::super) fn ambiguous(text: &str, meanings: usize) -> String {
    tr!("'{text}' can mean {meanings} different moves")
}

pub(in super::super) fn unplaced(parent: &str) -> String {
    tr!("it follows {parent}, which cannot be set on the board")
}

pub(in super::super) fn pass_in_check() -> String {
    tr!("nobody can pass while in check").to_owned()
}

pub(in super::super) fn nothing_noted() -> String {
    tr!("below the pass stands no move that could be played then").to_owned()
}
