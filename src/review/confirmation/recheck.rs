//! What a draft is worth when both of its moves are searched again, each alone and with more nodes.

use shakmaty::Move;

use crate::board::Line;
use crate::judge::{JudgeError, Question};
use crate::notation::{self, Reading};
use crate::review::analysis::judge_client::Asker;
use crate::review::analysis::player_valuation;
use crate::review::analysis::tree_analysis::{Place, Survey};
use crate::review::confirmation::{ranking, threshold};
use crate::review::findings::forward_image;
use crate::review::findings::suspect::Draft;
use crate::review::model::review::{Class, Kind};
use crate::tree::NodeId;

/// Other meanings of an impossible move that are tried, at most.
const SLIPS: usize = 3;
/// A gap of so many times delta, at first sight and with half the nodes of a confirmation, is no noise: of the 181
/// findings of the truth bench at 200,000 nodes none that its reference did not confirm had more than 2.2, but with 2.5
/// here one of 3.2 came in.
const PLAIN: f64 = 3.5;

/// Nodes of the searches that confirm a draft.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct Nodes {
    /// After what was overlooked.
    resource: u64,
    /// After what was written instead.
    written: u64,
}

impl Nodes {
    /// The full number for both; where the draft cannot count anyway half of it, and for the overlooked move alone: it
    /// is the best of many, and so the one that noise favours.
    pub(crate) fn full(survey: &Survey<'_>, draft: &Draft, asker: &Asker<'_>) -> Self {
        if ranking::is_beside(survey, draft) {
            return Self {
                resource: asker.nodes * (survey.settings.confirm / 2).max(1),
                written: asker.nodes,
            };
        }
        let nodes = asker.nodes * survey.settings.confirm.max(1);
        Self {
            resource: nodes,
            written: nodes,
        }
    }

    /// What is asked first: half of that where it may do.
    pub(crate) fn first(survey: &Survey<'_>, draft: &Draft, asker: &Asker<'_>) -> Self {
        let full = Self::full(survey, draft, asker);
        if !is_plain(survey, draft) {
            return full;
        }
        Self {
            resource: (full.resource / 2).max(asker.nodes),
            written: (full.written / 2).max(asker.nodes),
        }
    }
}

pub(crate) fn is_plain(survey: &Survey<'_>, draft: &Draft) -> bool {
    draft.gap >= survey.settings.delta * PLAIN
}

/// What the confirmation of the drafts asks first of all.
pub(crate) fn questions(survey: &Survey<'_>, drafts: &[(&Draft, Nodes)]) -> Vec<Question> {
    let mut lines: Vec<Question> = Vec::new();
    for (draft, nodes) in drafts {
        let Some(place) = survey.place(draft.at) else {
            continue;
        };
        let mut ask = |line: Line, nodes: u64| {
            lines.push(Question {
                line,
                lines: 1,
                nodes,
            });
        };
        match draft.kind {
            Kind::PhantomMove | Kind::BareCandidate => {}
            Kind::FearedTooMuch | Kind::SeenMisjudged => ask(place.line.clone(), nodes.resource),
            _ if draft.ends_there(survey) => ask(place.line.clone(), nodes.resource),
            _ => {
                let resource = draft.resource.as_ref();
                let resource = resource.filter(|mv| !is_refuted(survey, place, mv));
                if let Some(line) = resource.and_then(|mv| place.line.child(mv).ok()) {
                    ask(line, nodes.resource);
                }
                let other = other_side(survey, draft, place);
                if let Some(other) = other.and_then(|n| survey.place(n)) {
                    ask(other.line.clone(), nodes.written);
                }
            }
        }
    }
    lines
}

pub(crate) fn confirm(
    survey: &Survey<'_>,
    draft: Draft,
    nodes: Nodes,
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    match draft.kind {
        Kind::PhantomMove if draft.resource.is_none() => {
            slip_of_the_pen(survey, draft, asker).map(Some)
        }
        Kind::PhantomMove | Kind::BareCandidate => Ok(Some(draft)),
        Kind::MissedThreat => confirm_threat(survey, draft, nodes, asker),
        Kind::FearedTooMuch => confirm_feared(survey, draft, nodes, asker),
        Kind::SeenMisjudged => confirm_end(survey, draft, nodes, asker),
        _ if draft.ends_there(survey) => confirm_end(survey, draft, nodes, asker),
        _ => confirm_moves(survey, draft, nodes, asker),
    }
}

/// Two moves at one place: the resource and the best written one.
fn confirm_moves(
    survey: &Survey<'_>,
    mut draft: Draft,
    nodes: Nodes,
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    let (Some(place), Some(resource)) = (survey.place(draft.at), draft.resource.clone()) else {
        return Ok(None);
    };
    let better = match draft.node.filter(|_| draft.kind == Kind::WrongChoice) {
        Some(node) => deep_worth(survey, node, nodes.resource, asker)?,
        None => deep_move(survey, place, &resource, nodes.resource, asker)?,
    };
    let Some(other) = other_side(survey, &draft, place) else {
        return Ok(None);
    };
    let written = deep_worth(survey, other, nodes.written, asker)?;
    let gap = place.prefers(better, written);
    // A reply that offers itself stands on its line: it is no shade of an advantage.
    let doubt = match draft.sacrifice(survey) {
        Some(given) if draft.kind == Kind::MissedCounterSacrifice && given.active => 0.0,
        _ => threshold::doubt(survey.settings.delta, draft.gap, gap, (better, written)),
    };
    let gained = draft.effect - draft.gap;
    draft = draft.scores(better, written);
    if matches!(draft.kind, Kind::MissedCandidate | Kind::WrongChoice) {
        draft.effect = draft.gap + gained;
    }
    Ok(threshold::classed(survey, draft, gap, doubt))
}

/// The written move that the resource is compared with.
fn other_side(survey: &Survey<'_>, draft: &Draft, place: &Place) -> Option<NodeId> {
    match draft.kind {
        Kind::WrongChoice => survey.choice,
        Kind::MissedThreat => survey.root().best()?.node,
        _ => place.written().next()?.node,
    }
}

/// A verdict at the end of a line, against the position searched again.
fn confirm_end(
    survey: &Survey<'_>,
    mut draft: Draft,
    nodes: Nodes,
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    let (believed, truth) = (
        draft.believed,
        deep_worth(survey, draft.at, nodes.resource, asker)?,
    );
    draft = draft.scores(truth, believed);
    let verdict = survey.verdict(draft.at);
    let slack = survey.settings.delta / 2.0;
    if verdict.is_none_or(|v| player_valuation::agrees(v, survey.player(), truth, slack)) {
        return Ok(None);
    }
    let gap = draft.gap;
    Ok(threshold::classed(survey, draft, gap, 0.0))
}

/// The threat against the best move of the root.
fn confirm_threat(
    survey: &Survey<'_>,
    mut draft: Draft,
    nodes: Nodes,
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    let (Some(place), Some(threat), Some(best)) = (
        survey.place(draft.at),
        draft.resource.clone(),
        survey.root().best(),
    ) else {
        return Ok(None);
    };
    let allowed = deep_move(survey, place, &threat, nodes.resource, asker)?;
    let without = match best.node {
        Some(node) => deep_worth(survey, node, nodes.written, asker)?,
        None => deep_move(survey, survey.root(), &best.mv, nodes.written, asker)?,
    };
    draft = draft.scores(allowed, without);
    draft.effect = (without - allowed).max(0.0);
    let gap = without - allowed;
    Ok(threshold::classed(survey, draft, gap, 0.0))
}

/// The position after the feared reply, against the verdict on it and the best move of the root.
fn confirm_feared(
    survey: &Survey<'_>,
    mut draft: Draft,
    nodes: Nodes,
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    let truth = deep_worth(survey, draft.at, nodes.resource, asker)?;
    let believed = draft.believed;
    draft = draft.scores(truth, believed);
    let harmless = survey.root().worth - truth <= survey.settings.delta / 2.0;
    Ok(if harmless {
        threshold::classed(survey, draft, truth - believed, 0.0)
    } else {
        None
    })
}

/// An impossible move that one edit of the text turns into a good one was meant as that: told, not
/// counted. A piece that is no longer, or not yet, where
/// he had it in mind is no slip.
fn slip_of_the_pen(
    survey: &Survey<'_>,
    mut draft: Draft,
    asker: &mut Asker<'_>,
) -> Result<Draft, JudgeError> {
    let (Some(place), Some(node)) = (
        survey.place(draft.at),
        draft.node.and_then(|n| survey.tree.node(n)),
    ) else {
        return Ok(draft);
    };
    let retained = matches!(&node.reading, Reading::Phantom(p) if p.retained.is_some());
    if retained || forward_image::forward(survey, &draft).is_some() {
        return Ok(draft);
    }
    for mv in notation::slips(&node.token, &place.line)
        .into_iter()
        .take(SLIPS)
    {
        let Ok(line) = place.line.child(&mv) else {
            continue;
        };
        let worth = asker.alone(&line, asker.nodes)?;
        if place.prefers(place.worth, worth) < survey.settings.delta {
            draft.class = Class::Aside;
            draft.equals = vec![mv];
            break;
        }
    }
    Ok(draft)
}

/// A move searched alone with the nodes of a confirmation. Where a forcing reply has already shown it to
/// be worth less, a search from above that does not see the reply is no evidence against that.
fn deep_move(
    survey: &Survey<'_>,
    place: &Place,
    mv: &Move,
    nodes: u64,
    asker: &mut Asker<'_>,
) -> Result<f64, JudgeError> {
    let known = place.moves.iter().find(|m| m.mv == *mv);
    if let Some(refuted) = known.filter(|_| is_refuted(survey, place, mv)) {
        return Ok(refuted.worth);
    }
    match place.line.child(mv) {
        Ok(line) => asker.alone(&line, nodes),
        Err(_) => Ok(0.5),
    }
}

/// True where a forcing reply has shown the move to be worth less than its own search says.
fn is_refuted(survey: &Survey<'_>, place: &Place, mv: &Move) -> bool {
    let known = place.moves.iter().find(|m| m.mv == *mv);
    known.is_some_and(|m| m.alone - m.worth >= survey.settings.delta / 2.0)
}

/// The position after a written move, searched with the nodes of a confirmation. Where what is known
/// from below disagrees, the line that makes it so is followed and confirmed at its end instead: a
/// search from above that did not see it is no evidence against it.
fn deep_worth(
    survey: &Survey<'_>,
    id: NodeId,
    nodes: u64,
    asker: &mut Asker<'_>,
) -> Result<f64, JudgeError> {
    let Some(place) = survey.place(id) else {
        return Ok(0.5);
    };
    let alone = asker.alone(&place.line, nodes)?;
    if (alone - place.worth).abs() < survey.settings.delta / 2.0 {
        return Ok(alone);
    }
    match place.best() {
        Some(best) => match best.node {
            Some(node) => deep_worth(survey, node, nodes, asker),
            None => deep_move(survey, place, &best.mv, nodes, asker),
        },
        None => Ok(alone),
    }
}
