//! All that a sentence about a finding rests on.

use shakmaty::Move;

use super::fault::{Fault, HeldBack};
use super::finding::{Sacrifice, Turn};
use crate::board::Line;
use crate::score::PlayerScore;
use crate::tree::{NodeId, Tree};

/// What can be seen at the end of the told part of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shown {
    /// The game is over.
    End,
    /// The game will be over, and the way there is long.
    EndFollows,
    /// A position has come again, and that saves.
    Repetition,
    /// Material is won, and stays won.
    Material,
    /// Nothing: the standing is a judgement.
    Nothing,
}

/// A line as it is told: to its point.
#[derive(Debug, Clone)]
pub(crate) struct ToldLine {
    pub moves: Vec<Move>,
    pub shown: Shown,
    /// What the player gets after it.
    pub truth: PlayerScore,
}

/// What an unforced move would do if the other side could not answer it.
#[derive(Debug, Clone)]
pub(crate) struct Threat {
    /// The position with the other side's move left out.
    pub from: Line,
    pub moves: Vec<Move>,
}

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
    /// The part of the proof that is told, the resource first: of a sacrifice the line that takes it.
    pub told: &'a ToldLine,
    /// What else the other side can do than take what is offered, the resource first; where that is better for it.
    pub declined: Option<&'a ToldLine>,
    /// What a quiet resource threatens.
    pub threat: Option<&'a Threat>,
    /// The moves that stand written at the place.
    pub written: Vec<NodeId>,
    /// The written move that the resource is compared with, where it is one at the root.
    pub compared: Option<NodeId>,
    /// What the chosen move leaves him.
    pub choice_worth: Option<PlayerScore>,
    /// What speaks against the chosen move, where it gives away what was held.
    pub against: Option<&'a Move>,
    /// Other places at which the same was overlooked.
    pub also: &'a [NodeId],
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
