//! What became of a suspect: asked about again, and then settled.

use crate::board::sacrifice;
use crate::review::analysis::proof_line;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::confirmation::argument::{self, Argument};
use crate::review::findings::suspect::Suspect;
use crate::review::model::evidence::Shown;
use crate::review::model::fault::Ruling;
use crate::review::model::finding::{Finding, Sacrifice, Turn};
use crate::review::model::thresholds::PIECE;
use crate::tree::NodeId;

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
    /// The lines it is told by.
    pub argument: Argument,
    /// Other places at which the same was overlooked.
    pub also: Vec<NodeId>,
    /// How it was told ahead of the rest, where it was: it is told the same way in the end.
    pub said: Option<Box<Said>>,
}

/// A finding in its words, and the sentence that a review opens with because of it.
#[derive(Debug, Clone)]
pub(crate) struct Said {
    pub finding: Finding,
    pub opening: String,
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
    suspect.effect < analysis.settings.delta.half()
        && !on_choice
        && !(ruling == Ruling::Counted && loses_a_piece(analysis, suspect))
}

/// A piece lost on the choice's main line always counts, whatever else the tree says of it.
fn loses_a_piece(analysis: &TreeAnalysis<'_>, suspect: &Suspect<'_>) -> bool {
    let line = &suspect.place.line;
    let by_reply = !suspect.place.is_players_turn() && suspect.truth < suspect.believed;
    if !by_reply || !proof_line::main_line(analysis).contains(&suspect.at) {
        return false;
    }
    let point = argument::point(suspect);
    let mut end = line.clone();
    let mut played = suspect.proof.iter().take(point.plies);
    let whole = played.all(|mv| end.push(mv).is_ok());
    let player = line.player();
    let lost =
        sacrifice::balance(line.position(), player) - sacrifice::balance(end.position(), player);
    whole && point.shown == Shown::Material && lost >= PIECE
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
