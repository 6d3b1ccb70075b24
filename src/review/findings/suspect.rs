//! A finding before it is put into words: moves and numbers only.

use shakmaty::Move;

use crate::board::{line, motif, sacrifice};
use crate::review::analysis::proof_line;
use crate::review::analysis::tree_analysis::{Place, Survey};
use crate::review::model::review::{Class, Finding, Kind, Sacrifice, Turn};
use crate::review::wording;
use crate::tree::NodeId;

/// Why the player preferred the worse of two written moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Cause {
    /// His own verdicts said so.
    AgainstOwnVerdicts,
    /// Something below the choice was overlooked.
    RefutationMissed,
    /// The end of the choice's line was judged wrongly.
    EndMisjudged,
    /// The better move was never calculated.
    NeverCalculated,
    /// None of these can be shown.
    Unknown,
}

/// Why a true finding is not counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum HeldBack {
    /// It rests on what few would find at the board.
    FewWouldFindIt,
    /// The better side makes no progress by best play.
    NoWayIn,
}

#[derive(Debug, Clone)]
pub(crate) struct Draft {
    pub kind: Kind,
    pub class: Class,
    /// The place: the resource would stand below this node. For a phantom move, its parent.
    pub at: NodeId,
    /// What was overlooked; `None` for a phantom move and where the game is over.
    pub resource: Option<Move>,
    /// Other moves that are as good.
    pub equals: Vec<Move>,
    /// What follows, the resource first.
    pub proof: Vec<Move>,
    /// What the player gets after the resource.
    pub truth: f64,
    /// What he has without it: by his best written move, or by his verdict.
    pub believed: f64,
    pub gap: f64,
    pub effect: f64,
    /// For a wrong choice.
    pub cause: Cause,
    /// For a phantom move: the node. For a wrong choice: the better move's node. For the end of a game: that
    /// end.
    pub node: Option<NodeId>,
    /// The kind without regard to sacrifices.
    pub plain: Kind,
    /// Moves of the resource's side that are within delta of its best, where that had to be asked: what hung
    /// anyway is given up only if one of them saved it.
    pub good: Option<Vec<Move>>,
    /// Every move harms the side that moves after the resource: true for the player, false for the opponent.
    pub harms: Option<bool>,
    /// For the class 'withheld': why.
    pub held_back: Option<HeldBack>,
    /// Its place among the findings told before all was asked.
    pub told: Option<usize>,
}

impl Draft {
    pub(crate) fn new(kind: Kind, at: NodeId, resource: Option<Move>, proof: Vec<Move>) -> Self {
        Self {
            kind,
            class: Class::Counted,
            at,
            resource,
            equals: Vec::new(),
            proof,
            truth: 0.5,
            believed: 0.5,
            gap: 0.0,
            effect: 0.0,
            cause: Cause::Unknown,
            node: None,
            plain: kind,
            good: None,
            harms: None,
            held_back: None,
            told: None,
        }
    }

    pub(crate) fn scores(mut self, truth: f64, believed: f64) -> Self {
        self.truth = truth;
        self.believed = believed;
        self.gap = (truth - believed).abs();
        self
    }

    /// The half-move of the resource, from the root; where the game is over, that of its last move.
    pub(crate) fn ply(&self, survey: &Survey<'_>) -> usize {
        survey.tree.ply(self.at) + usize::from(!self.is_over())
    }

    /// True where the finding is about the end of a game: nothing can follow.
    pub(crate) fn is_over(&self) -> bool {
        self.resource.is_none() && self.node == Some(self.at)
    }

    /// True where the written line ends at the place.
    pub(crate) fn ends_there(&self, survey: &Survey<'_>) -> bool {
        survey.tree.standing(self.at).next().is_none()
    }

    /// What the resource gives up, where it gives something up.
    pub(crate) fn sacrifice(&self, survey: &Survey<'_>) -> Option<Sacrifice> {
        let pos = survey.place(self.at)?.line.position();
        let mv = self.resource.as_ref()?;
        let offer = match &self.good {
            Some(good) => sacrifice::offer_given(pos, mv, |m| good.contains(m))?,
            None => sacrifice::offer(pos, mv)?,
        };
        Some(Sacrifice {
            gives: offer.gives,
            active: offer.active,
            sham: sacrifice::is_sham(pos, &self.proof),
        })
    }

    /// The finding in words.
    pub(crate) fn finish(&self, survey: &Survey<'_>) -> Finding {
        let place = survey.place(self.at);
        let proof = place
            .map(|p| {
                line::sans(
                    p.line.position(),
                    proof_line::told(p, &self.proof, self.truth),
                )
            })
            .unwrap_or_default();
        let turn = if place.is_some_and(Place::is_players_turn) {
            Turn::Player
        } else {
            Turn::Opponent
        };
        Finding {
            kind: self.kind,
            class: self.class,
            paths: proof_line::paths(survey, self.at),
            resource: self.resource_text(survey, place),
            gap: rounded(self.gap),
            effect: rounded(self.effect),
            ply: self.ply(survey),
            turn,
            motifs: self.motifs(place),
            sacrifice: self.sacrifice(survey),
            sentence: wording::sentence(survey, self, &proof) + wording::held_back(self.held_back),
            question: wording::question(survey, self).to_owned(),
            at: self.at,
            instead: proof_line::instead(survey, self.at, self.node.filter(|n| *n != self.at)),
            proof,
        }
    }

    pub(crate) fn resource_text(&self, survey: &Survey<'_>, place: Option<&Place>) -> String {
        match (&self.resource, place) {
            (Some(mv), Some(place)) => line::san(place.line.position(), mv),
            _ => self.node.map(|n| survey.tree.san(n)).unwrap_or_default(),
        }
    }

    fn motifs(&self, place: Option<&Place>) -> Vec<motif::Motif> {
        match (&self.resource, place) {
            (Some(mv), Some(place)) if self.proof.first() == Some(mv) => {
                let mut found = motif::motifs_in_line(&place.line, &self.proof);
                found.extend(self.harms.map(|_| motif::Motif::EveryMoveHarms));
                found
            }
            (Some(mv), Some(place)) => motif::motifs(&place.line, mv),
            _ => Vec::new(),
        }
    }
}

/// Scores are told to a thousandth: more digits would be noise, and would differ between machines.
fn rounded(e: f64) -> f64 {
    (e * 1000.0).round() / 1000.0
}
