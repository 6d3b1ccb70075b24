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

use shakmaty::{Move, Position, Role};

use crate::board::motif::{self, Motif};
use crate::board::phase::{self, Phase};
use crate::board::{line, sacrifice};
use crate::review::analysis::player_valuation;
use crate::review::analysis::tree_analysis::{Place, Scored, Survey};
use crate::review::findings::suspect::Draft;
use crate::review::model::review::{Class, Turn};
use crate::tree::{NodeId, Verdict};

/// This many equally good moves, and none of them had to be seen. The root's search compares five
/// moves, the others three.
const MANY_AT_ROOT: usize = 5;
const MANY: usize = 3;
/// A move is written under pressure when no more than this part of the time is left (our own choice, no
/// source).
const PRESSURE: f64 = 0.25;

/// All that is counted across attempts.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Trials {
    /// The moments, from the root down.
    pub moments: Vec<Trial>,
    pub verdicts: Vec<Stated>,
    /// Moves at the root within delta of the best, as far as they were compared.
    pub plausible: usize,
    /// The player's expected score at the root with the best move, 0 to 1.
    pub standing: f64,
}

/// One moment in which something was to be seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    pub turn: Turn,
    /// Half-move of what was to be seen, counted from the root, the first being 1.
    pub ply: usize,
    pub seen: bool,
    /// Moves from the root to the moment, in SAN.
    pub path: Vec<String>,
    /// What was to be seen, in SAN: the best move.
    pub resource: String,
    /// One of [`Motif::FORCING`].
    pub class: Motif,
    /// The other motifs that all of the equally good moves have in common.
    pub motifs: Vec<Motif>,
    pub piece: Role,
    /// It gives up more than a pawn.
    pub gives_up: bool,
    pub phase: Phase,
    /// The position was written with little time left; `None` where there was no clock.
    pub pressed: Option<bool>,
}

/// A verdict and the truth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stated {
    /// The player's expected score as his verdict says it, 0 to 1.
    pub stated: f64,
    /// The same by the judge, on the scale of verdicts.
    pub truth: f64,
    pub phase: Phase,
    /// Half-move after which it stands.
    pub ply: usize,
}

/// What can be counted of a survey. `asked` are the drafts before confirmation, `told` those after it.
pub(crate) fn trials(survey: &Survey<'_>, asked: &[Mark], told: &[Draft], clock: &Clock) -> Trials {
    let root = survey.root();
    let near = |m: &&Scored| root.worth - m.worth <= survey.settings.delta;
    let mut ids: Vec<NodeId> = survey.places.keys().copied().collect();
    ids.sort_by_key(|id| (survey.tree.ply(*id), *id));
    let moments = ids.iter().filter_map(|id| trial(survey, *id, clock));
    Trials {
        moments: moments
            .filter(|t| stands(&t.1, asked, told))
            .map(|t| t.0)
            .collect(),
        verdicts: ids.iter().filter_map(|id| stated(survey, *id)).collect(),
        plausible: root.moves.iter().filter(near).count(),
        standing: root.worth,
    }
}

/// A place and what was overlooked there: the identity of a draft.
pub(crate) type Mark = (NodeId, Option<Move>);

pub(crate) fn mark(draft: &Draft) -> Mark {
    (draft.at, draft.resource.clone())
}

/// When a position was written, as a part of the time.
#[derive(Debug, Default)]
pub(crate) struct Clock {
    pub start_ms: u64,
    pub budget_ms: Option<u64>,
}

impl Clock {
    fn pressed(&self, at_ms: u64) -> Option<bool> {
        let budget = self.budget_ms.filter(|b| *b > 0)?;
        let used = at_ms.saturating_sub(self.start_ms) as f64;
        Some(used >= budget as f64 * (1.0 - PRESSURE))
    }
}

/// A miss that the confirmation dropped, or that few would find, is no trial; nor is one that was only
/// close.
fn stands((seen, mark): &(bool, Mark), asked: &[Mark], told: &[Draft]) -> bool {
    let draft = told.iter().find(|d| self::mark(d) == *mark);
    *seen
        || match draft {
            Some(draft) => matches!(draft.class, Class::Counted | Class::Aside),
            None => !asked.contains(mark),
        }
}

fn trial(survey: &Survey<'_>, id: NodeId, clock: &Clock) -> Option<(Trial, (bool, Mark))> {
    let place = survey.place(id)?;
    let best = place.best()?;
    if place.line.position().legal_moves().len() < 2 {
        return None;
    }
    let equals = equals(survey, place);
    at_stake(survey, id, place, &equals)?;
    let seen = seen(survey, id, place, &equals)?;
    let common = common(place, &equals);
    let pos = place.line.position();
    let at_ms = survey.tree.node(id).map(|n| n.at_ms);
    let trial = Trial {
        turn: if place.is_players_turn() {
            Turn::Player
        } else {
            Turn::Opponent
        },
        ply: survey.tree.ply(id) + 1,
        seen,
        path: survey.tree.sans(id),
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
fn equals<'s>(survey: &Survey<'_>, place: &'s Place) -> Vec<&'s Scored> {
    let good = |m: &&Scored| place.prefers(place.worth, m.worth) <= survey.settings.equal;
    place.moves.iter().filter(good).collect()
}

/// The motifs that all of them have.
fn common(place: &Place, equals: &[&Scored]) -> Vec<Motif> {
    let mut each = equals.iter().map(|m| motif::motifs(&place.line, &m.mv));
    let first = each.next().unwrap_or_default();
    let rest: Vec<Vec<Motif>> = each.collect();
    let shared = |m: &Motif| rest.iter().all(|other| other.contains(m));
    first
        .into_iter()
        .filter(|m| !Motif::FORCING.contains(m) && shared(m))
        .collect()
}

/// Something where it matters what is played there.
fn at_stake(survey: &Survey<'_>, id: NodeId, place: &Place, equals: &[&Scored]) -> Option<()> {
    let many = if id == NodeId::ROOT {
        MANY_AT_ROOT
    } else {
        MANY
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
            .max_by(f64::total_cmp)
            .or_else(|| player_valuation::material_view(survey, id))
    };
    let decided = other.is_some_and(|other| survey.is_decided(place.worth, other));
    // The search of the player's turn leaves out what is delta worse: no other move means just that.
    let harms =
        other.is_none_or(|other| place.prefers(place.worth, other) >= survey.settings.delta / 2.0);
    (equals.len() < many && harms && !decided).then_some(())
}

/// Whether one of them was seen; `None` where the tree does not say.
fn seen(survey: &Survey<'_>, id: NodeId, place: &Place, equals: &[&Scored]) -> Option<bool> {
    if place.written().next().is_some() {
        return Some(equals.iter().any(|m| m.node.is_some()));
    }
    let node = survey.tree.node(id)?;
    let Some(verdict) = node.verdict.filter(|v| *v != Verdict::Unclear) else {
        // The choice was played without one reply in mind.
        return (survey.choice == Some(id)).then_some(false);
    };
    let stated = player_valuation::value_of(verdict, survey.player())?;
    let slack = survey.settings.delta / 2.0;
    if player_valuation::agrees(verdict, survey.player(), place.worth, slack) {
        return Some(true);
    }
    // Without the move the side to move has less: a verdict that is off to that side has missed it.
    (place.prefers(place.worth, stated) > 0.0).then_some(false)
}

/// The verdict on a standing position, and the truth. A forced mate is worth no more than 'winning' to
/// somebody who answers in signs.
fn stated(survey: &Survey<'_>, id: NodeId) -> Option<Stated> {
    let place = survey.place(id)?;
    let verdict = survey.tree.node(id)?.verdict?;
    let truth = match verdict {
        Verdict::Sign(_) => player_valuation::as_stated(place.worth),
        _ => place.worth,
    };
    Some(Stated {
        stated: player_valuation::value_of(verdict, survey.player())?,
        truth,
        phase: phase::of(place.line.position()),
        ply: survey.tree.ply(id),
    })
}
