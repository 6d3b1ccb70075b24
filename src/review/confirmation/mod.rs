//! Every finding is asked again with more nodes before it is told.
//!
//! The best of many noisy scores against one score invents oversights. So both moves are searched
//! again, each alone, with four times the nodes ([`again`], which tells where half of that will do);
//! [`class`](crate::review::confirmation::threshold) says whether the gap still counts, is 'close', or is none.

pub mod fortress;
pub mod ranking;
pub mod recheck;
pub mod sacrifice;
pub mod threshold;

use shakmaty::{Move, Position};

use crate::attempt::Attempt;
use crate::board::{Line, motif};
use crate::judge::JudgeError;
use crate::review::analysis::judge_client::Asker;
use crate::review::analysis::proof_line;
use crate::review::analysis::tree_analysis::{Place, Survey};
use crate::review::confirmation::recheck::Nodes;
use crate::review::findings;
use crate::review::findings::suspect::{Draft, HeldBack};
use crate::review::measures::depth;
use crate::review::model::review::{Class, Kind};

/// A proof longer than this, in half-moves, with [`BEYOND_QUIET`] quiet only-moves is beyond most.
const BEYOND_PLIES: usize = 7;
const BEYOND_QUIET: usize = 2;

/// Drafts whose searches are asked for together, so that no engine waits; few, since one may fold another.
const TOGETHER: usize = 4;
/// A gap that is below this part of delta at first sight is not asked about again: it would be no finding.
const FIRST_SIGHT: f64 = 0.75;

/// The drafts that stand, with confirmed scores and full proofs, in the order in which they were asked about:
/// what costs most first. What is sure is told at once.
pub(crate) fn confirmed(
    survey: &Survey<'_>,
    mut drafts: Vec<Draft>,
    attempt: Option<&Attempt>,
    asker: &mut Asker<'_>,
) -> Result<Vec<Draft>, JudgeError> {
    drafts.retain(|d| is_worth_asking(survey, d));
    ranking::weigh(survey, &mut drafts);
    let delta = survey.settings.delta;
    drafts.retain(|d| !ranking::is_beside(survey, d) || threshold::is_told_beside(delta, d));
    ranking::by_effect(survey, &mut drafts);
    let mut standing: Vec<Draft> = Vec::new();
    let mut rest = drafts.as_slice();
    while !rest.is_empty() {
        let (some, later) = rest.split_at(rest.len().min(TOGETHER));
        let some = some
            .iter()
            .filter(|d| d.kind == Kind::PhantomMove || !ranking::is_folded(survey, d, &standing));
        let mut found = asked_again(survey, &some.collect::<Vec<_>>(), asker)?;
        proof_line::extend(survey, &mut found, asker)?;
        for draft in found {
            let mut draft = settled(survey, draft, asker)?;
            // Before anything is told or folded: what a coach struck hides nothing.
            if let Some(attempt) = attempt {
                ranking::overruled(survey, std::slice::from_mut(&mut draft), attempt);
            }
            standing.push(draft);
        }
        rest = later;
        for draft in ranking::sure(survey, &mut standing, rest) {
            asker.watcher().finding(&draft.finish(survey));
        }
    }
    Ok(standing)
}

fn is_worth_asking(survey: &Survey<'_>, draft: &Draft) -> bool {
    ranking::is_by_the_board(draft.kind)
        || draft.gap >= survey.settings.delta * FIRST_SIGHT - 0.0005
}

/// The drafts that stand once they were asked about again.
fn asked_again(
    survey: &Survey<'_>,
    drafts: &[&Draft],
    asker: &mut Asker<'_>,
) -> Result<Vec<Draft>, JudgeError> {
    let first: Vec<(&Draft, Nodes)> = drafts
        .iter()
        .map(|d| (*d, Nodes::first(survey, d, asker)))
        .collect();
    let mut found = confirm_all(survey, &first, asker)?;
    let mut unsure = Vec::new();
    let mut places = Vec::new();
    for (place, ((draft, nodes), found)) in first.iter().zip(&found).enumerate() {
        let full = Nodes::full(survey, draft, asker);
        let counts = |d: &Draft| d.class == Class::Counted && recheck::is_plain(survey, d);
        if *nodes != full && !found.as_ref().is_some_and(counts) {
            unsure.push((*draft, full));
            places.push(place);
        }
    }
    for (place, again) in places.into_iter().zip(confirm_all(survey, &unsure, asker)?) {
        if let Some(found) = found.get_mut(place) {
            *found = again;
        }
    }
    Ok(found.into_iter().flatten().collect())
}

fn confirm_all(
    survey: &Survey<'_>,
    drafts: &[(&Draft, Nodes)],
    asker: &mut Asker<'_>,
) -> Result<Vec<Option<Draft>>, JudgeError> {
    // All in one batch, so that no engine waits.
    asker.ask(&recheck::questions(survey, drafts))?;
    let each = drafts.iter();
    each.map(|(draft, nodes)| recheck::confirm(survey, (*draft).clone(), *nodes, asker))
        .collect()
}

/// The confirmed draft with its final class.
fn settled(
    survey: &Survey<'_>,
    mut draft: Draft,
    asker: &mut Asker<'_>,
) -> Result<Draft, JudgeError> {
    let Some(place) = survey.place(draft.at) else {
        return Ok(draft);
    };
    sacrifice::settle(survey, &mut draft, place, asker)?;
    // What only makes a finding more telling is not asked about one that cannot count.
    if !ranking::is_beside(survey, &draft) {
        draft.harms = sacrifice::every_move_harms(survey, &draft, place, asker)?;
        if is_counter_sacrifice_later(survey, &draft, place, asker)? {
            draft.kind = Kind::MissedCounterSacrifice;
        }
    }
    if draft.class == Class::Counted && is_beyond(survey, &draft, place, asker)? {
        draft.class = Class::Withheld;
        draft.held_back = Some(HeldBack::FewWouldFindIt);
    }
    if draft.class == Class::Counted && fortress::is_missing(survey, &draft, place, asker)? {
        draft.class = Class::Withheld;
        draft.held_back = Some(HeldBack::NoWayIn);
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
    Ok(only && findings::gives_something_up(&there, mv))
}
