//! What became of a suspect: asked about again, and then settled.

use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::Ruling;
use crate::review::model::finding::{Sacrifice, Turn};

/// A suspect whose scores were asked for again, with what it counts for by them.
#[derive(Debug, Clone)]
pub(crate) struct Rechecked<'s> {
    pub suspect: Suspect<'s>,
    pub ruling: Ruling,
}

/// One that stands, with its full proof.
#[derive(Debug, Clone)]
pub(crate) struct Confirmed<'s> {
    pub suspect: Suspect<'s>,
    pub ruling: Ruling,
    /// What its resource gives up.
    pub sacrifice: Option<Sacrifice>,
    /// The side that every move harms after it.
    pub zugzwang: Option<Turn>,
}

impl Confirmed<'_> {
    pub(crate) fn is_counted(&self) -> bool {
        self.ruling == Ruling::Counted
    }
}

/// True where the suspect, if it counts, is told beside the choice and counts for nothing.
pub(crate) fn is_beside(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    ruling: Ruling,
) -> bool {
    let on_choice = ruling == Ruling::Counted && is_illegal_on_choice(analysis, suspect);
    suspect.effect < analysis.settings.delta.half() && !on_choice
}

/// An impossible move in the choice's own lines always counts: the picture of the board was wrong
/// where it mattered, whatever came of it.
fn is_illegal_on_choice(analysis: &TreeAnalysis<'_>, suspect: &Suspect<'_>) -> bool {
    let node = suspect.illegal_node();
    node.is_some_and(|n| analysis.is_under_choice(n))
}

/// What a suspect counts for before it is asked about again.
pub(crate) fn at_first_sight(suspect: &Suspect<'_>) -> Ruling {
    if suspect.fault.is_bare() {
        Ruling::Aside
    } else {
        Ruling::Counted
    }
}

/// The side that moves after the resource.
pub(crate) fn answering(suspect: &Suspect<'_>) -> Turn {
    if suspect.place.is_players_turn() {
        Turn::Opponent
    } else {
        Turn::Player
    }
}
