//! One function per kind of finding: where the tree and the truth part, before confirmation.
//!
//! All scores are the player's. Conditions are those of the module documentation of each function;
//! `delta` and the other thresholds are in [`Settings`](super::Settings).

pub mod forward_image;
pub mod suspect;

use shakmaty::Move;

use crate::board::sacrifice;
use crate::notation::{self, Reading};
use crate::review::analysis::choice_impact::Added;
use crate::review::analysis::player_valuation;
use crate::review::analysis::proof_line;
use crate::review::analysis::tree_analysis::{Place, Scored, Survey};
use crate::review::confirmation::ranking;
use crate::review::findings::suspect::{Cause, Draft};
use crate::review::model::review::{Class, Kind};
use crate::tree::NodeId;

/// This many equally good moves at the root, and none of them is 'the' move.
const MANY_EQUALS: usize = 5;

/// All findings, unconfirmed, with their effect.
pub(crate) fn all(survey: &Survey<'_>) -> Vec<Draft> {
    let mut drafts = Vec::new();
    for (id, place) in &survey.places {
        drafts.extend(missed_resource(survey, *id, place));
        drafts.extend(missed_defence(survey, *id, place));
        drafts.extend(end_of_line(survey, *id, place));
        drafts.extend(seen_misjudged(survey, *id, place));
    }
    drafts.extend(phantom_moves(survey));
    drafts.extend(false_mates(survey));
    for draft in &mut drafts {
        draft.effect = ranking::effect(survey, draft, &[]);
    }
    drafts.extend(missed_candidate(survey));
    let wrong = wrong_choice(survey, &drafts);
    drafts.extend(wrong);
    drafts.extend(bare_candidate(survey));
    drafts.extend(feared_too_much(survey));
    let threat = missed_threat(survey);
    // The more telling kind: the same move, as a reply to something that was written.
    let told = |t: &Draft| {
        drafts
            .iter()
            .any(|d| d.at == t.at && d.resource == t.resource && d.kind != Kind::BareCandidate)
    };
    drafts.extend(threat.filter(|t| !told(t)));
    drafts
}

/// Root. The best unwritten move beats the best written candidate by delta. Where several lie within
/// `equal` of the best they are named together, and only if none of them was written; five or more are
/// no finding.
///
/// Its effect is what it would have gained over the choice: a better move found does not change what
/// the player believed of the choice, but it is the whole of what he lost.
pub(crate) fn missed_candidate(survey: &Survey<'_>) -> Option<Draft> {
    let root = survey.root();
    let best = root.unwritten().next()?;
    let written = root.written().next()?;
    let gap = best.worth - written.worth;
    if gap < survey.settings.delta / 2.0 || survey.is_decided(best.worth, written.worth) {
        return None;
    }
    let equals = equals_of(survey, root, best);
    if equals.len() + 1 >= MANY_EQUALS || equals.iter().any(|m| m.node.is_some()) {
        return None;
    }
    let mut draft = Draft::new(
        Kind::MissedCandidate,
        NodeId::ROOT,
        Some(best.mv.clone()),
        best.pv.clone(),
    )
    .scores(best.worth, written.worth);
    draft.equals = equals.into_iter().map(|m| m.mv.clone()).collect();
    draft.effect = (best.worth - survey.choice_worth().unwrap_or(written.worth)).max(0.0);
    Some(draft)
}

fn equals_of<'s>(survey: &Survey<'_>, place: &'s Place, best: &Scored) -> Vec<&'s Scored> {
    let equal = survey.settings.equal;
    place
        .moves
        .iter()
        .filter(|m| m.mv != best.mv && place.prefers(best.worth, m.worth) <= equal)
        .collect()
}

/// Root. A written candidate beats the choice by delta. Its effect is the same difference.
fn wrong_choice(survey: &Survey<'_>, below: &[Draft]) -> Option<Draft> {
    let chosen = survey.chosen()?;
    let better = survey.root().written().next()?;
    let gap = better.worth - chosen.worth;
    if gap < survey.settings.delta / 2.0 || survey.is_decided(better.worth, chosen.worth) {
        return None;
    }
    let mut draft = Draft::new(
        Kind::WrongChoice,
        NodeId::ROOT,
        Some(better.mv.clone()),
        better.pv.clone(),
    )
    .scores(better.worth, chosen.worth);
    draft.node = better.node;
    draft.effect = gap;
    draft.cause = cause(survey, below, better.node?);
    Some(draft)
}

/// Why he preferred it, after backing up his tree with his verdicts.
fn cause(survey: &Survey<'_>, below: &[Draft], better: NodeId) -> Cause {
    let Some(choice) = survey.choice else {
        return Cause::Unknown;
    };
    let (own_choice, own_better) = (survey.own(choice), survey.own(better));
    let says_something = |id| has_verdict(survey, id);
    let under = |kinds: &[Kind]| {
        below.iter().any(|d| {
            survey.is_under_choice(d.at)
                && kinds.contains(&d.kind)
                && d.effect >= survey.settings.delta / 2.0
        })
    };
    if says_something(better)
        && says_something(choice)
        && own_better - own_choice >= survey.settings.delta
    {
        Cause::AgainstOwnVerdicts
    } else if under(&[
        Kind::MissedDefence,
        Kind::MissedCounterSacrifice,
        Kind::StoppedShort,
    ]) {
        Cause::RefutationMissed
    } else if under(&[Kind::Misjudged]) {
        Cause::EndMisjudged
    } else if survey.tree.standing(better).next().is_none() {
        Cause::NeverCalculated
    } else {
        Cause::Unknown
    }
}

/// True where a verdict stands at the node or below it.
fn has_verdict(survey: &Survey<'_>, id: NodeId) -> bool {
    survey.verdict(id).is_some() || survey.tree.standing(id).any(|c| has_verdict(survey, c))
}

/// Root. The choice was committed without one reply written, although the game goes on after it, and it was
/// not marked as a candidate that stands alone on purpose. Counts for nothing by itself: what it cost is told by the other kinds.
fn bare_candidate(survey: &Survey<'_>) -> Option<Draft> {
    let choice = survey.choice?;
    let place = survey.place(choice)?;
    let on_purpose = survey.tree.node(choice).is_some_and(|node| node.only);
    if on_purpose || survey.tree.standing(choice).next().is_some() {
        return None;
    }
    let reply = place.best()?;
    let mut draft = Draft::new(
        Kind::BareCandidate,
        choice,
        Some(reply.mv.clone()),
        reply.pv.clone(),
    )
    .scores(
        place.worth,
        player_valuation::stated(survey, choice).unwrap_or(place.worth),
    );
    draft.class = Class::Aside;
    Some(draft)
}

/// Player's turn below the root, something written: his best continuation is not written and beats the
/// best written one by delta.
fn missed_resource(survey: &Survey<'_>, id: NodeId, place: &Place) -> Option<Draft> {
    if id == NodeId::ROOT || !place.is_players_turn() {
        return None;
    }
    unwritten_and_better(survey, id, place, Kind::MissedResource)
}

/// Opponent's turn, at least one reply written: an unwritten reply leaves the player delta worse than
/// the best written reply does. The most harmful one is told. A counter-sacrifice where that reply
/// gives up more than a pawn.
fn missed_defence(survey: &Survey<'_>, id: NodeId, place: &Place) -> Option<Draft> {
    if place.is_players_turn() {
        return None;
    }
    let mut draft = unwritten_and_better(survey, id, place, Kind::MissedDefence)?;
    if gives_something_up(place, draft.resource.as_ref()?) {
        draft.plain = draft.kind;
        draft.kind = Kind::MissedCounterSacrifice;
    }
    Some(draft)
}

fn unwritten_and_better(
    survey: &Survey<'_>,
    id: NodeId,
    place: &Place,
    kind: Kind,
) -> Option<Draft> {
    let written = place.written().next()?;
    let best = place.unwritten().next()?;
    let gap = place.prefers(best.worth, written.worth);
    if gap < survey.settings.delta / 2.0 || survey.is_decided(best.worth, written.worth) {
        return None;
    }
    let mut draft = Draft::new(kind, id, Some(best.mv.clone()), best.pv.clone())
        .scores(best.worth, written.worth);
    draft.equals = equals_of(survey, place, best)
        .into_iter()
        .map(|m| m.mv.clone())
        .collect();
    draft.node = written.node;
    Some(draft)
}

/// True where the move gives up more than a pawn.
pub(crate) fn gives_something_up(place: &Place, mv: &Move) -> bool {
    sacrifice::offer(place.line.position(), mv).is_some_and(|o| o.is_sacrifice())
}

/// The end of a line with a verdict that is off by delta. *Stopped short* where the verdict agrees with
/// a count of the pieces once captures have run out: something comes after the last move. *Misjudged*
/// where not even that, or where the position is settled. A counter-sacrifice where what comes is the
/// opponent giving up more than a pawn.
fn end_of_line(survey: &Survey<'_>, id: NodeId, place: &Place) -> Option<Draft> {
    let (verdict, player) = (survey.verdict(id)?, survey.player());
    let stated = player_valuation::value_of(verdict, player)?;
    let slack = survey.settings.delta / 2.0;
    if survey.tree.standing(id).next().is_some()
        || player_valuation::agrees(verdict, player, place.worth, slack)
        || survey.is_decided(stated, place.worth)
    {
        return None;
    }
    let Some((resource, moves)) = what_follows(place) else {
        return Some(over(id, place, stated));
    };
    let counted_the_pieces = player_valuation::material_view(survey, id)
        .is_some_and(|e| player_valuation::agrees(verdict, player, e, slack));
    let surprised =
        !place.is_players_turn() && place.worth < stated && gives_something_up(place, &resource);
    let plain = if counted_the_pieces && !stays_quiet(place, &moves) {
        Kind::StoppedShort
    } else if is_critical_reply(survey, id) {
        Kind::SeenMisjudged
    } else {
        Kind::Misjudged
    };
    let mut draft = Draft::new(plain, id, Some(resource), moves).scores(place.worth, stated);
    if surprised {
        draft.kind = Kind::MissedCounterSacrifice;
    }
    Some(draft)
}

/// The game is over at the end of a line, and not as the verdict says: no move was overlooked, but a rule.
fn over(id: NodeId, place: &Place, stated: f64) -> Draft {
    let mut draft = Draft::new(Kind::Misjudged, id, None, Vec::new()).scores(place.worth, stated);
    draft.node = Some(id);
    draft
}

/// A written reply of the opponent that is his best one there, or as good.
fn is_critical_reply(survey: &Survey<'_>, id: NodeId) -> bool {
    let before = survey.tree.parent(id).and_then(|p| survey.place(p));
    before.filter(|p| !p.is_players_turn()).is_some_and(|p| {
        let scored = p.moves.iter().find(|m| m.node == Some(id));
        scored.is_some_and(|m| p.prefers(p.worth, m.worth) <= survey.settings.equal)
    })
}

/// The opponent's critical reply is written, lines follow it, and the verdict that stands at the reply
/// itself is off by delta. Counts as seen. (At the end of a line see [`end_of_line`].)
fn seen_misjudged(survey: &Survey<'_>, id: NodeId, place: &Place) -> Option<Draft> {
    let verdict = survey.verdict(id)?;
    let stated = player_valuation::value_of(verdict, survey.player())?;
    let slack = survey.settings.delta / 2.0;
    if survey.tree.standing(id).next().is_none()
        || !is_critical_reply(survey, id)
        || player_valuation::agrees(verdict, survey.player(), place.worth, slack)
        || survey.is_decided(stated, place.worth)
    {
        return None;
    }
    let (resource, moves) = what_follows(place)?;
    Some(Draft::new(Kind::SeenMisjudged, id, Some(resource), moves).scores(place.worth, stated))
}

/// A rejected candidate: the reply that he wrote against it does no harm (the player stays within half
/// of delta of the best), and his verdict after it is delta lower. Its effect is what the candidate
/// would have gained over the choice.
fn feared_too_much(survey: &Survey<'_>) -> Vec<Draft> {
    let candidates = survey
        .tree
        .standing(NodeId::ROOT)
        .filter(|c| survey.choice.is_some() && survey.choice != Some(*c));
    let replies = candidates.flat_map(|c| survey.tree.standing(c).map(move |r| (c, r)));
    replies.filter_map(|(c, r)| feared(survey, c, r)).collect()
}

fn feared(survey: &Survey<'_>, candidate: NodeId, reply: NodeId) -> Option<Draft> {
    let place = survey.place(reply)?;
    let (stated, worth) = (verdict_below(survey, reply)?, place.worth);
    let harmless = survey.root().worth - worth <= survey.settings.delta / 2.0;
    if !harmless || worth - stated < survey.settings.delta || survey.is_decided(worth, stated) {
        return None;
    }
    let (resource, moves) = what_follows(place)?;
    let mut draft =
        Draft::new(Kind::FearedTooMuch, reply, Some(resource), moves).scores(worth, stated);
    let better = survey.place(candidate)?.worth - survey.choice_worth()?;
    draft.effect = better.max(0.0);
    Some(draft)
}

/// Root. If the player passed, the opponent would play the very move that the choice allows: it costs
/// delta, and it stands in none of his lines.
fn missed_threat(survey: &Survey<'_>) -> Option<Draft> {
    let (threat, chosen) = (survey.threat.as_ref()?, survey.choice?);
    let place = survey.place(chosen)?;
    let allowed = place.moves.iter().find(|m| m.mv == threat.mv)?;
    let lost = survey.root().worth - allowed.worth;
    let written = survey.places.iter().filter(|(_, p)| !p.is_players_turn());
    let met = written
        .flat_map(|(_, p)| p.written())
        .any(|m| m.mv == threat.mv);
    if met || lost < survey.settings.delta || survey.is_decided(survey.root().worth, allowed.worth)
    {
        return None;
    }
    let mut draft = Draft::new(
        Kind::MissedThreat,
        chosen,
        Some(threat.mv.clone()),
        allowed.pv.clone(),
    )
    .scores(allowed.worth, survey.root().worth);
    draft.effect = lost;
    Some(draft)
}

/// A legal move written with `#` that does not mate.
fn false_mates(survey: &Survey<'_>) -> Vec<Draft> {
    survey
        .places
        .iter()
        .filter_map(|(id, place)| false_mate(survey, *id, place))
        .collect()
}

fn false_mate(survey: &Survey<'_>, id: NodeId, place: &Place) -> Option<Draft> {
    let node = survey.tree.node(id)?;
    let before = survey.place(survey.tree.parent(id)?)?;
    if !notation::false_mate_claim(&node.token, &before.line) {
        return None;
    }
    let (reply, moves) = what_follows(place)?;
    let claimed = if before.is_players_turn() { 1.0 } else { 0.0 };
    let mut draft =
        Draft::new(Kind::PhantomMove, id, Some(reply), moves).scores(place.worth, claimed);
    draft.node = Some(id);
    Some(draft)
}

/// The move that matters at the end of a line, and what follows it.
fn what_follows(place: &Place) -> Option<(Move, Vec<Move>)> {
    let moves = place.best().map_or(&place.pv, |m| &m.pv);
    Some((moves.first()?.clone(), moves.clone()))
}

/// True where the position is settled and stays so for the next moves: nothing comes, it was only
/// judged wrongly.
fn stays_quiet(place: &Place, moves: &[Move]) -> bool {
    let mut line = place.line.clone();
    let mut quiet = proof_line::is_settled(&line);
    for mv in moves.iter().take(4) {
        quiet = quiet && line.push(mv).is_ok() && proof_line::is_settled(&line);
    }
    quiet
}

/// Anywhere: a written move that is not legal where it stands. What is below it is not judged.
fn phantom_moves(survey: &Survey<'_>) -> Vec<Draft> {
    let tree = survey.tree;
    let phantoms = tree
        .nodes()
        .filter(|(id, n)| tree.stands(*id) && matches!(n.reading, Reading::Phantom(_)));
    phantoms
        .filter_map(|(id, _)| phantom_move(survey, id))
        .collect()
}

fn phantom_move(survey: &Survey<'_>, id: NodeId) -> Option<Draft> {
    let at = survey.tree.parent(id)?;
    let place = survey.place(at)?;
    let believed = verdict_below(survey, id).unwrap_or(place.worth);
    let mut draft =
        Draft::new(Kind::PhantomMove, at, None, Vec::new()).scores(place.worth, believed);
    draft.node = Some(id);
    Some(draft)
}

/// The first verdict at the node or below, as an expected score.
pub(crate) fn verdict_below(survey: &Survey<'_>, id: NodeId) -> Option<f64> {
    player_valuation::stated(survey, id).or_else(|| {
        survey
            .tree
            .standing(id)
            .find_map(|c| verdict_below(survey, c))
    })
}

/// What a draft adds to the player's tree; `None` for kinds that are about the root itself.
pub(crate) fn addition(draft: &Draft) -> Option<Added> {
    let about_a_line = !ranking::is_about_the_root(draft.kind);
    about_a_line.then_some(Added {
        at: draft.at,
        worth: draft.truth,
    })
}
