//! What a review says about the player beyond this one tree: for each moment in which something was to
//! be seen, whether he saw it; and for each verdict, how far it was off.
//!
//! A *trial* is a written position in which one move, or a few as good, had to be seen:
//!
//! * at the player's turn, where not nearly every move does;
//! * at the opponent's turn, where his best reply leaves the player half of delta worse than another
//!   reply does (or than a count of the pieces says, where no other reply was compared).
//!
//! It is *seen* where any move within `equal` of the best stands written. A line that ends there with
//! a verdict is a trial as well: seen where the verdict allows for what comes, missed where it is off
//! the way it would be without; off the other way says nothing. What was missed counts only if the
//! confirmation let it stand. Positions with one legal move, and decided ones, are no trials.
//!
//! Which moves count as critical does not depend on whether they were written: else whoever saw more
//! would be counted more often.

use shakmaty::{Move, Position};

use crate::attempt::Attempt;
use crate::board::motif::{self, Motif};
use crate::board::phase;
use crate::board::{line, sacrifice};
use crate::review::analysis::player_valuation;
use crate::review::analysis::position::{AnalysedMove, AnalysedPosition};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::confirmation::confirmed::Confirmed;
use crate::review::findings::suspect::Suspect;
use crate::review::model::finding::Turn;
use crate::review::model::thresholds::{PRESSURE, TRIAL_MANY, TRIAL_MANY_AT_ROOT};
use crate::review::model::trial::{Stated, Trial, Trials};
use crate::review::model::verdicts;
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::{NodeId, Verdict};

/// What can be counted of an analysis. `asked` are the suspects, `told` what was confirmed of them.
pub(crate) fn trials(
    analysis: &TreeAnalysis<'_>,
    asked: &[Mark],
    told: &[Confirmed<'_>],
    clock: &Clock,
) -> Trials {
    let root = analysis.root();
    let near = |m: &&AnalysedMove| root.worth - m.worth <= analysis.settings.delta;
    let mut ids: Vec<NodeId> = analysis.places.keys().copied().collect();
    ids.sort_by_key(|id| (analysis.tree.ply(*id), *id));
    let moments = ids.iter().filter_map(|id| trial(analysis, *id, clock));
    Trials {
        moments: moments
            .filter(|t| stands(&t.1, asked, told))
            .map(|t| t.0)
            .collect(),
        verdicts: ids.iter().filter_map(|id| stated(analysis, *id)).collect(),
        plausible: root.moves.iter().filter(near).count(),
        standing: root.worth,
    }
}

/// A place and what was overlooked there: the identity of a suspect.
pub(crate) type Mark = (NodeId, Option<Move>);

pub(crate) fn mark(suspect: &Suspect<'_>) -> Mark {
    (suspect.at, suspect.resource().cloned())
}

/// When a position was written, as a part of the time.
#[derive(Debug, Default)]
pub(crate) struct Clock {
    pub start_ms: u64,
    pub budget_ms: Option<u64>,
}

impl Clock {
    /// The clock of the sitting, where there was one.
    pub(crate) fn of(attempt: Option<&Attempt>) -> Self {
        attempt.map_or_else(Self::default, |a| Self {
            // Before writing was started nothing was pressed.
            start_ms: a.started_ms().unwrap_or(0),
            budget_ms: a.opened().budget_ms,
        })
    }

    fn pressed(&self, at_ms: u64) -> Option<bool> {
        let budget = self.budget_ms.filter(|b| *b > 0)?;
        let used = at_ms.saturating_sub(self.start_ms) as f64;
        Some(used >= budget as f64 * (1.0 - PRESSURE))
    }
}

/// A miss that the confirmation dropped, or that few would find, is no trial; nor is one that was only
/// close.
fn stands((seen, mark): &(bool, Mark), asked: &[Mark], told: &[Confirmed<'_>]) -> bool {
    let finding = told.iter().find(|f| self::mark(&f.suspect) == *mark);
    *seen
        || match finding {
            Some(finding) => finding.ruling.is_sure(),
            None => !asked.contains(mark),
        }
}

fn trial(analysis: &TreeAnalysis<'_>, id: NodeId, clock: &Clock) -> Option<(Trial, (bool, Mark))> {
    let place = analysis.place(id)?;
    let best = place.best()?;
    if place.line.position().legal_moves().len() < 2 {
        return None;
    }
    let equals = equals(analysis, place);
    at_stake(analysis, id, place, &equals)?;
    let seen = seen(analysis, id, place, &equals)?;
    let common = common(place, &equals);
    let pos = place.line.position();
    let at_ms = analysis.tree.node(id).map(|n| n.at_ms);
    let trial = Trial {
        turn: if place.is_players_turn() {
            Turn::Player
        } else {
            Turn::Opponent
        },
        ply: analysis.tree.ply(id) + 1,
        seen,
        path: analysis.tree.sans(id),
        resource: line::san(pos, &best.mv),
        class: motif::forcing_class(pos, &best.mv),
        motifs: common,
        piece: best.mv.role(),
        gives_up: equals
            .iter()
            .all(|m| sacrifice::offer(pos, &m.mv).is_some_and(|o| o.is_sacrifice())),
        phase: phase::of(pos),
        pressed: clock.pressed(at_ms.unwrap_or(clock.start_ms)),
    };
    Some((trial, (seen, (id, Some(best.mv.clone())))))
}

/// The best move and those as good.
fn equals<'s>(analysis: &TreeAnalysis<'_>, place: &'s AnalysedPosition) -> Vec<&'s AnalysedMove> {
    place.within(place.worth, analysis.settings.equal).collect()
}

/// The motifs that all of them have.
fn common(place: &AnalysedPosition, equals: &[&AnalysedMove]) -> Vec<Motif> {
    let mut each = equals
        .iter()
        .map(|m| motif::motifs_of(&place.line, &m.mv, &m.pv));
    let first = each.next().unwrap_or_default();
    let rest: Vec<Vec<Motif>> = each.collect();
    let shared = |m: &Motif| rest.iter().all(|other| other.contains(m));
    first
        .into_iter()
        .filter(|m| !Motif::FORCING.contains(m) && shared(m))
        .collect()
}

/// Something where it matters what is played there.
fn at_stake(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    place: &AnalysedPosition,
    equals: &[&AnalysedMove],
) -> Option<()> {
    let many = if id == NodeId::ROOT {
        TRIAL_MANY_AT_ROOT
    } else {
        TRIAL_MANY
    };
    let others = place
        .moves
        .iter()
        .filter(|m| !equals.iter().any(|e| e.mv == m.mv));
    let other = if place.is_players_turn() {
        others.map(|m| m.worth).next()
    } else {
        others
            .map(|m| m.worth)
            .max_by(PlayerScore::total_cmp)
            .or_else(|| Some(player_valuation::material_view(place)))
    };
    let decided = other.is_some_and(|other| analysis.is_decided(place.worth, other));
    // The search of the player's turn leaves out what is delta worse: no other move means just that.
    let harms = other
        .is_none_or(|other| place.prefers(place.worth, other) >= analysis.settings.delta.half());
    (equals.len() < many && harms && !decided).then_some(())
}

/// Whether one of them was seen; `None` where the tree does not say.
fn seen(
    analysis: &TreeAnalysis<'_>,
    id: NodeId,
    place: &AnalysedPosition,
    equals: &[&AnalysedMove],
) -> Option<bool> {
    if place.written().next().is_some() {
        return Some(equals.iter().any(|m| m.node.is_some()));
    }
    let node = analysis.tree.node(id)?;
    let Some(verdict) = node.verdict.filter(|v| *v != Verdict::Unclear) else {
        // The choice was played without one reply in mind.
        return (analysis.choice == Some(id)).then_some(false);
    };
    let stated = verdicts::value_of(verdict, analysis.player())?;
    let slack = analysis.settings.delta.half();
    if verdicts::agrees(verdict, analysis.player(), place.worth, slack) {
        return Some(true);
    }
    // Without the move the side to move has less: a verdict that is off to that side has missed it.
    (place.prefers(place.worth, stated) > ScoreDiff::ZERO).then_some(false)
}

/// The verdict on a standing position, and the truth. A forced mate is worth no more than 'winning' to
/// somebody who answers in signs.
fn stated(analysis: &TreeAnalysis<'_>, id: NodeId) -> Option<Stated> {
    let place = analysis.place(id)?;
    let verdict = analysis.tree.node(id)?.verdict?;
    let truth = match verdict {
        Verdict::Sign(_) => verdicts::as_stated(place.worth),
        _ => place.worth,
    };
    Some(Stated {
        stated: verdicts::value_of(verdict, analysis.player())?,
        truth,
        phase: phase::of(place.line.position()),
        ply: analysis.tree.ply(id),
    })
}
