//! All that a sentence about a finding rests on.

use shakmaty::Move;

use super::fault::{Fault, HeldBack};
use super::finding::{Sacrifice, Turn};
use crate::board::Line;
use crate::score::PlayerScore;
use crate::tree::{NodeId, Tree};

/// What was found at one place, ready to be put into words.
pub(crate) struct Evidence<'a> {
    pub tree: &'a Tree,
    /// The move that was chosen, where it can be played.
    pub choice: Option<NodeId>,
    /// The written node of the place.
    pub place: NodeId,
    /// The way to its position.
    pub line: &'a Line,
    pub fault: &'a Fault,
    /// The part of the proof that is told.
    pub told: &'a [Move],
    /// What the player gets after it.
    pub truth: PlayerScore,
    /// What he has without it: by his best written move, or by his verdict.
    pub believed: PlayerScore,
    /// His verdict at the place, where he gave one.
    pub stated: Option<PlayerScore>,
    pub sacrifice: Option<Sacrifice>,
    /// The side that every move harms after the resource.
    pub zugzwang: Option<Turn>,
    pub held_back: Option<HeldBack>,
    /// A move written elsewhere, after which an impossible one could be played.
    pub forward_image: Option<String>,
}
