//! Every finding is asked again with more nodes before it is told.
//!
//! The best of many noisy scores against one score invents oversights. So both moves are searched
//! again, each alone, with four times the nodes; [`class`] says whether the gap still counts, is 'close', or
//! is none. What cannot count anyway is asked with half of that.

use shakmaty::{Move, Position};

use super::asker::Asker;
use super::draft::{Draft, HeldBack};
use super::survey::{Place, Survey};
use super::value::{Class, Kind};
use super::{class, depth, detect, given, image, order, own, proof, way_in};
use crate::attempt::Attempt;
use crate::board::{Line, motif};
use crate::judge::{JudgeError, Question};
use crate::notation::{self, Reading};
use crate::tree::NodeId;

/// Other meanings of an impossible move that are tried, at most.
const SLIPS: usize = 3;
/// A proof longer than this, in half-moves, with [`BEYOND_QUIET`] quiet only-moves is beyond most.
const BEYOND_PLIES: usize = 7;
const BEYOND_QUIET: usize = 2;

/// Drafts whose searches are asked for together, so that no engine waits.
const TOGETHER: usize = 4;
/// A gap that is below this part of delta at first sight is not asked about again: it would be no finding.
const FIRST_SIGHT: f64 = 0.75;

/// The drafts that stand, with confirmed scores and full proofs, in the order in which they were asked about:
/// what costs most first. What is sure is told at once.
pub(super) fn confirmed(
    survey: &Survey<'_>,
    mut drafts: Vec<Draft>,
    attempt: Option<&Attempt>,
    asker: &mut Asker<'_>,
) -> Result<Vec<Draft>, JudgeError> {
    drafts.retain(|d| is_worth_asking(survey, d));
    order::by_effect(survey, &mut drafts);
    let mut standing: Vec<Draft> = Vec::new();
    let mut rest = drafts.as_slice();
    while !rest.is_empty() {
        let (some, later) = rest.split_at(rest.len().min(TOGETHER));
        let some: Vec<&Draft> = some
            .iter()
            .filter(|d| d.kind == Kind::PhantomMove || !order::is_folded(survey, d, &standing))
            .collect();
        asker.ask(&questions(survey, &some, asker))?;
        for draft in some {
            let mut draft = settled(survey, draft.clone(), asker)?;
            // Before anything is told or folded: what a coach struck hides nothing.
            if let Some(attempt) = attempt {
                order::overruled(survey, draft.as_mut_slice(), attempt);
            }
            standing.extend(draft);
        }
        rest = later;
        for draft in order::sure(survey, &mut standing, rest) {
            asker.watcher().finding(&draft.finish(survey));
        }
    }
    Ok(standing)
}

fn is_worth_asking(survey: &Survey<'_>, draft: &Draft) -> bool {
    let always = matches!(draft.kind, Kind::PhantomMove | Kind::BareCandidate);
    always || draft.gap >= survey.settings.delta * FIRST_SIGHT - 0.0005
}

/// What the confirmation of the drafts asks first of all, in one batch.
fn questions(survey: &Survey<'_>, drafts: &[&Draft], asker: &Asker<'_>) -> Vec<Question> {
    let mut lines: Vec<Question> = Vec::new();
    for draft in drafts {
        let Some(place) = survey.place(draft.at) else {
            continue;
        };
        let nodes = deep(survey, draft, asker);
        let mut ask = |line: Line| {
            lines.push(Question {
                line,
                lines: 1,
                nodes,
            });
        };
        match draft.kind {
            Kind::PhantomMove | Kind::BareCandidate => {}
            Kind::FearedTooMuch | Kind::SeenMisjudged => ask(place.line.clone()),
            _ if draft.ends_there(survey) => ask(place.line.clone()),
            _ => {
                let resource = draft
                    .resource
                    .as_ref()
                    .filter(|mv| !is_refuted(survey, place, mv));
                resource
                    .and_then(|mv| place.line.child(mv).ok())
                    .map(&mut ask);
                let other = other_side(survey, draft, place);
                let other = other.and_then(|n| survey.place(n));
                other.map(|p| p.line.clone()).map(&mut ask);
            }
        }
    }
    lines
}

/// Nodes of each search that confirms the draft: half of the full number where it cannot count anyway.
fn deep(survey: &Survey<'_>, draft: &Draft, asker: &Asker<'_>) -> u64 {
    let times = survey.settings.confirm;
    let less = if order::is_beside(survey, draft) {
        2
    } else {
        1
    };
    asker.nodes * (times / less).max(1)
}

/// The draft, asked again; with its proof and final class where it stands.
fn settled(
    survey: &Survey<'_>,
    draft: Draft,
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    let Some(mut draft) = confirm(survey, draft, asker)? else {
        return Ok(None);
    };
    if let Some(place) = survey.place(draft.at) {
        let decided = proof::is_all_or_nothing(draft.truth);
        draft.proof = proof::extended(&place.line, draft.proof, decided, asker)?;
        given::settle(survey, &mut draft, place, asker)?;
        // What only makes a finding more telling is not asked about one that cannot count.
        if !order::is_beside(survey, &draft) {
            draft.harms = given::every_move_harms(survey, &draft, place, asker)?;
            if is_counter_sacrifice_later(survey, &draft, place, asker)? {
                draft.kind = Kind::MissedCounterSacrifice;
            }
        }
        if draft.class == Class::Counted && is_beyond(survey, &draft, place, asker)? {
            draft.class = Class::Withheld;
            draft.held_back = Some(HeldBack::FewWouldFindIt);
        }
        if draft.class == Class::Counted && way_in::is_missing(survey, &draft, place, asker)? {
            draft.class = Class::Withheld;
            draft.held_back = Some(HeldBack::NoWayIn);
        }
    }
    Ok(Some(draft))
}

fn confirm(
    survey: &Survey<'_>,
    draft: Draft,
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    match draft.kind {
        Kind::PhantomMove if draft.resource.is_none() => {
            slip_of_the_pen(survey, draft, asker).map(Some)
        }
        Kind::PhantomMove | Kind::BareCandidate => Ok(Some(draft)),
        Kind::MissedThreat => confirm_threat(survey, draft, asker),
        Kind::FearedTooMuch => confirm_feared(survey, draft, asker),
        Kind::SeenMisjudged => confirm_end(survey, draft, asker),
        _ if draft.ends_there(survey) => confirm_end(survey, draft, asker),
        _ => confirm_moves(survey, draft, asker),
    }
}

/// Two moves at one place: the resource and the best written one.
fn confirm_moves(
    survey: &Survey<'_>,
    mut draft: Draft,
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    let (Some(place), Some(resource)) = (survey.place(draft.at), draft.resource.clone()) else {
        return Ok(None);
    };
    let nodes = deep(survey, &draft, asker);
    let better = match draft.node.filter(|_| draft.kind == Kind::WrongChoice) {
        Some(node) => deep_worth(survey, node, nodes, asker)?,
        None => deep_move(survey, place, &resource, nodes, asker)?,
    };
    let Some(other) = other_side(survey, &draft, place) else {
        return Ok(None);
    };
    let written = deep_worth(survey, other, nodes, asker)?;
    let gap = place.prefers(better, written);
    // A reply that offers itself stands on its line: it is no shade of an advantage.
    let doubt = match draft.sacrifice(survey) {
        Some(given) if draft.kind == Kind::MissedCounterSacrifice && given.active => 0.0,
        _ => class::doubt(survey.settings.delta, draft.gap, gap, (better, written)),
    };
    let gained = draft.effect - draft.gap;
    draft = draft.scores(better, written);
    if matches!(draft.kind, Kind::MissedCandidate | Kind::WrongChoice) {
        draft.effect = draft.gap + gained;
    }
    Ok(class::classed(survey, draft, gap, doubt))
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
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    let nodes = deep(survey, &draft, asker);
    let (believed, truth) = (draft.believed, deep_worth(survey, draft.at, nodes, asker)?);
    draft = draft.scores(truth, believed);
    let verdict = survey.verdict(draft.at);
    let slack = survey.settings.delta / 2.0;
    if verdict.is_none_or(|v| own::agrees(v, survey.player(), truth, slack)) {
        return Ok(None);
    }
    let gap = draft.gap;
    Ok(class::classed(survey, draft, gap, 0.0))
}

/// The threat against the best move of the root.
fn confirm_threat(
    survey: &Survey<'_>,
    mut draft: Draft,
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    let (Some(place), Some(threat), Some(best)) = (
        survey.place(draft.at),
        draft.resource.clone(),
        survey.root().best(),
    ) else {
        return Ok(None);
    };
    let nodes = deep(survey, &draft, asker);
    let allowed = deep_move(survey, place, &threat, nodes, asker)?;
    let without = match best.node {
        Some(node) => deep_worth(survey, node, nodes, asker)?,
        None => deep_move(survey, survey.root(), &best.mv, nodes, asker)?,
    };
    draft = draft.scores(allowed, without);
    draft.effect = (without - allowed).max(0.0);
    let gap = without - allowed;
    Ok(class::classed(survey, draft, gap, 0.0))
}

/// The position after the feared reply, against the verdict on it and the best move of the root.
fn confirm_feared(
    survey: &Survey<'_>,
    mut draft: Draft,
    asker: &mut Asker<'_>,
) -> Result<Option<Draft>, JudgeError> {
    let nodes = deep(survey, &draft, asker);
    let truth = deep_worth(survey, draft.at, nodes, asker)?;
    let believed = draft.believed;
    draft = draft.scores(truth, believed);
    let harmless = survey.root().worth - truth <= survey.settings.delta / 2.0;
    Ok(if harmless {
        class::classed(survey, draft, truth - believed, 0.0)
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
    if retained || image::forward(survey, &draft).is_some() {
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

/// True where the truth rests on what few would find at the board: more than seven half-moves until it is
/// settled, with two or more quiet only-moves of the side that plays the resource among them.
fn is_beyond(
    survey: &Survey<'_>,
    draft: &Draft,
    place: &Place,
    asker: &mut Asker<'_>,
) -> Result<bool, JudgeError> {
    if draft.resource.is_none() || draft.proof.len() <= BEYOND_PLIES {
        return Ok(false);
    }
    // The point is seen as soon as the board looks more like the truth than like what was believed.
    let shows = |glance: f64| (glance - draft.truth).abs() < (glance - draft.believed).abs();
    let needed = depth::until_settled(&place.line, &draft.proof, &shows, asker)?;
    if needed <= BEYOND_PLIES {
        return Ok(false);
    }
    let mut line = place.line.clone();
    let mut hard = 0;
    for (i, mv) in draft.proof.iter().take(needed).enumerate() {
        let quiet =
            i % 2 == 0 && !motif::is_forcing(line.position(), mv) && !line.position().is_check();
        if quiet && is_only_move(survey, &line, mv, asker)? {
            hard += 1;
        }
        if line.push(mv).is_err() {
            break;
        }
    }
    Ok(hard >= BEYOND_QUIET)
}

/// True where the move is the best by delta.
fn is_only_move(
    survey: &Survey<'_>,
    line: &Line,
    mv: &Move,
    asker: &mut Asker<'_>,
) -> Result<bool, JudgeError> {
    let answer = asker.ask_one(line, 2, asker.nodes)?;
    Ok(answer.is_some_and(|a| match a.moves.as_slice() {
        [first, second, ..] => {
            first.mv == *mv && first.expected.over(second.expected) >= survey.settings.delta
        }
        [first] => first.mv == *mv,
        [] => false,
    }))
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

/// The other half of the counter-sacrifice: the opponent's *next* move in the proof gives something up
/// and is the only good one there.
fn is_counter_sacrifice_later(
    survey: &Survey<'_>,
    draft: &Draft,
    place: &Place,
    asker: &mut Asker<'_>,
) -> Result<bool, JudgeError> {
    if !matches!(draft.kind, Kind::MissedDefence | Kind::StoppedShort)
        || draft.truth >= draft.believed
    {
        return Ok(false);
    }
    let next = if place.is_players_turn() { 1 } else { 2 };
    let (Some(before), Some(mv)) = (draft.proof.get(..next), draft.proof.get(next)) else {
        return Ok(false);
    };
    let mut line = place.line.clone();
    if before.iter().any(|mv| line.push(mv).is_err()) {
        return Ok(false);
    }
    let only = is_only_move(survey, &line, mv, asker)?;
    let there = Place::bare(line);
    Ok(only && detect::gives_something_up(&there, mv))
}
