//! All sentences of a review. Move first, then the reason, then one question to ask next time.
//!
//! In comes [`Evidence`] or a plain value; out comes a sentence. No marks, no scolding, no number where a
//! word does. A reason is given only where a rule, a motif or a count of the pieces supports it. The player
//! is 'you', the opponent 'he'. All of it is one voice: whoever adds a sentence reads the others first.
//!
//! Nothing in here must know the judge, an analysis, or why a finding counts: what it says rests on the
//! evidence alone.

mod end_card;
mod findings;
mod illegal_move;
mod material;
mod nature;
mod notes;
mod opening;
mod pattern;
mod phrases;
mod questions;
mod told;

#[cfg(doc)]
use crate::review::model::evidence::Evidence;

pub(super) use end_card::{sentences as card_sentences, unread as card_unread};
pub(super) use findings::sentence;
pub(super) use material::{
    stands as material_stands, stands_after_captures as material_after_captures,
};
pub(super) use nature::{is_pawn_break, takes_back};
pub(super) use notes::{longest_resistance, mate_was_there, simpler, threat_note};
pub(super) use opening::{decisive, holds};
pub(super) use phrases::{
    ambiguous, nothing_noted, pass_in_check, right_candidate, right_choice, right_legal,
    right_reply, right_verdict, unplaced, winning_choice,
};
pub use phrases::{coverage_words, depth_words, focus_words};
pub(super) use questions::question;
pub(super) use told::{path, written};
