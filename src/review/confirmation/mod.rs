//! Every suspect is asked about again with more nodes before it is told.
//!
//! In come the [`Suspect`]s; out come the [`Confirmed`] findings in the order of telling, and those that are
//! sure go to the observer at once. The best of many noisy scores against one score invents oversights. So both
//! moves are searched again, each alone, with four times the nodes ([`recheck`], which tells where half of that
//! will do); [`threshold`] says whether the gap still counts, is 'close', or is none, and [`last_board`] whether the line
//! that proves it keeps its promise to its end; [`sacrifice`], [`findability`] and [`fortress`] settle what only the
//! judge can tell; [`ranking`] orders and folds, and [`telling`] makes of each what the reader gets. [`ahead`] does
//! all that for the one place that the choice hangs on, before the whole tree is asked about.
//!
//! Nothing in here looks for new faults, and nothing in here must know the measures that are drawn from the
//! findings.

pub mod ahead;
pub mod argument;
pub mod confirmed;
pub mod facts;
pub mod findability;
pub mod fortress;
pub mod last_board;
pub mod ranking;
pub mod recheck;
pub mod sacrifice;
pub mod telling;
pub mod threshold;

use crate::attempt::Attempt;
use crate::judge::{JudgeError, Question};
use crate::review::analysis::judge_client::JudgeClient;
use crate::review::analysis::proof_line::{self, Proof};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::confirmation::argument::Argument;
use crate::review::confirmation::confirmed::{Confirmed, Rechecked, at_first_sight, is_beside};
use crate::review::confirmation::ranking::Ranking;
use crate::review::confirmation::recheck::Nodes;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::{HeldBack, Ruling};
use crate::review::model::thresholds::TOGETHER;

/// The findings that stand, with confirmed scores and full proofs, in the order of telling: `first`, which was told
/// [`ahead`], then the others. They are asked about in the order of what they seem to cost, and what is sure is told
/// at once.
pub(crate) fn confirmed<'s>(
    analysis: &'s TreeAnalysis<'_>,
    mut suspects: Vec<Suspect<'s>>,
    first: Option<Confirmed<'s>>,
    attempt: Option<&Attempt>,
    client: &mut JudgeClient<'_>,
) -> Result<Vec<Confirmed<'s>>, JudgeError> {
    if let Some(first) = &first {
        suspects.retain(|s| !is_told(&first.suspect, s));
    }
    let suspects = in_order(analysis, suspects);
    let mut opened = first.is_some();
    let mut ranking = Ranking::new(analysis, first);
    let mut rest = suspects.as_slice();
    while !rest.is_empty() {
        let (some, later) = rest.split_at(together(rest.len()));
        let some: Vec<_> = some.iter().filter(|s| !ranking.repeats(s)).collect();
        let soon = later.iter().filter(|s| !ranking.repeats(s));
        let soon: Vec<_> = soon
            .map(|s| (s, Nodes::first(analysis, s, client)))
            .collect();
        client.foresee(&recheck::questions(analysis, &soon)?);
        for found in confirm(analysis, &some, attempt, client)? {
            ranking.push(found);
        }
        rest = later;
        for finding in ranking.sure(rest) {
            if !opened {
                let opening = telling::opening(analysis, Some(finding), true);
                client.watcher().opening(&opening);
                opened = true;
            }
            let finding = telling::finding(analysis, finding);
            client.watcher().finding(&finding);
        }
    }
    Ok(ranking.finish())
}

/// How many of so many suspects are asked about together: a last one is not left by itself, since it would keep one
/// engine at work and all others waiting.
fn together(rest: usize) -> usize {
    if rest == TOGETHER + 1 {
        rest
    } else {
        rest.min(TOGETHER)
    }
}

/// True where the suspect is the finding that was told already, or says another thing of the same moment.
fn is_told(told: &Suspect<'_>, suspect: &Suspect<'_>) -> bool {
    let about_the_root = told.fault.is_about_the_root();
    told.at == suspect.at
        && !suspect.fault.is_by_the_board()
        && about_the_root == suspect.fault.is_about_the_root()
        && (!about_the_root || told.kind() == suspect.kind())
}

/// The suspects asked about again, and all that is told of those that stand.
fn confirm<'s>(
    analysis: &'s TreeAnalysis<'_>,
    suspects: &[&Suspect<'s>],
    attempt: Option<&Attempt>,
    client: &mut JudgeClient<'_>,
) -> Result<Vec<Confirmed<'s>>, JudgeError> {
    let mut found = asked_again(analysis, suspects, client)?;
    extend_proofs(&mut found, client)?;
    last_board::look(analysis, &mut found, client)?;
    let foreseen = foreseen(analysis, &found, client)?;
    client.ask(&foreseen)?;
    let settled = found.into_iter().map(|rechecked| {
        let settled = settled(analysis, rechecked, client)?;
        // Before anything is told or folded: what a coach struck hides nothing.
        Ok(overruled(analysis, settled, attempt))
    });
    settled.collect()
}

/// The suspects that are worth asking about, those that seem to cost most first.
fn in_order<'s>(analysis: &TreeAnalysis<'_>, mut suspects: Vec<Suspect<'s>>) -> Vec<Suspect<'s>> {
    let delta = analysis.settings.delta;
    suspects.retain(|s| threshold::is_worth_asking(delta, s));
    let mut suspects = ranking::weighed(analysis, suspects);
    suspects.retain(|s| {
        !is_beside(analysis, s, at_first_sight(s)) || threshold::is_told_beside(delta, s)
    });
    ranking::by_effect(analysis, &mut suspects, |s| s);
    suspects
}

/// The suspects that stand once they were asked about again.
fn asked_again<'s>(
    analysis: &TreeAnalysis<'_>,
    suspects: &[&Suspect<'s>],
    client: &mut JudgeClient<'_>,
) -> Result<Vec<Rechecked<'s>>, JudgeError> {
    let delta = analysis.settings.delta;
    let first: Vec<(&Suspect<'s>, Nodes)> = suspects
        .iter()
        .map(|s| (*s, Nodes::first(analysis, s, client)))
        .collect();
    let mut found = recheck_all(analysis, &first, client)?;
    let mut unsure = Vec::new();
    let mut places = Vec::new();
    for (place, ((suspect, nodes), found)) in first.iter().zip(&found).enumerate() {
        let full = Nodes::full(analysis, suspect, client);
        let counts = |r: &Rechecked<'_>| {
            r.ruling == Ruling::Counted && threshold::is_plain(delta, &r.suspect)
        };
        if *nodes != full && !found.as_ref().is_some_and(counts) {
            unsure.push((*suspect, full));
            places.push(place);
        }
    }
    for (place, again) in places
        .into_iter()
        .zip(recheck_all(analysis, &unsure, client)?)
    {
        if let Some(found) = found.get_mut(place) {
            *found = again;
        }
    }
    Ok(found.into_iter().flatten().collect())
}

fn recheck_all<'s>(
    analysis: &TreeAnalysis<'_>,
    suspects: &[(&Suspect<'s>, Nodes)],
    client: &mut JudgeClient<'_>,
) -> Result<Vec<Option<Rechecked<'s>>>, JudgeError> {
    // All in one batch, so that no engine waits.
    client.ask(&recheck::questions(analysis, suspects)?)?;
    let each = suspects.iter();
    each.map(|(suspect, nodes)| recheck::recheck(analysis, suspect, *nodes, client))
        .collect()
}

fn extend_proofs(
    found: &mut [Rechecked<'_>],
    client: &mut JudgeClient<'_>,
) -> Result<(), JudgeError> {
    let proofs = found.iter_mut().map(|r| {
        let s = &mut r.suspect;
        Proof::new(&s.place.line, &mut s.proof, s.truth)
    });
    proof_line::extend(proofs.collect(), client)
}

/// What will be asked of each finding by itself, as far as it is known beforehand: asked for all in one batch no engine
/// waits for the other.
fn foreseen(
    analysis: &TreeAnalysis<'_>,
    found: &[Rechecked<'_>],
    client: &JudgeClient<'_>,
) -> Result<Vec<Question>, JudgeError> {
    let mut questions = Vec::new();
    for rechecked in found {
        let counts = !is_beside(analysis, &rechecked.suspect, rechecked.ruling);
        questions.extend(sacrifice::foreseen(rechecked, counts, client)?);
        if counts {
            questions.extend(findability::foreseen(&rechecked.suspect, client)?);
        }
    }
    Ok(questions)
}

/// The finding with all that only the judge can tell of it.
fn settled<'s>(
    analysis: &TreeAnalysis<'_>,
    mut found: Rechecked<'s>,
    client: &mut JudgeClient<'_>,
) -> Result<Confirmed<'s>, JudgeError> {
    let (sacrifice, accept) = sacrifice::settle(analysis, &mut found.suspect, client)?;
    let mut zugzwang = None;
    // What only makes a finding more telling is not asked about one that cannot count.
    if !is_beside(analysis, &found.suspect, found.ruling) {
        zugzwang = sacrifice::zugzwang(analysis, &found, client)?;
        if findability::is_counter_sacrifice_later(analysis, &found.suspect, client)? {
            found.suspect.fault.set_gives_up(true);
        }
    }
    let mut ruling = found.ruling;
    let argument = if is_beside(analysis, &found.suspect, ruling) {
        Argument::plain(&found.suspect, accept.is_some())
    } else {
        argument::of(analysis, &found.suspect, accept.as_ref(), client)?
    };
    if ruling == Ruling::Counted && findability::is_opinion(&found.suspect, &argument) {
        ruling = Ruling::Close;
    }
    if ruling == Ruling::Counted
        && findability::is_beyond(analysis, &found.suspect, &argument, client)?
    {
        ruling = Ruling::Withheld(HeldBack::FewWouldFindIt);
    }
    if ruling == Ruling::Counted && fortress::holds(analysis, &found.suspect, client)? {
        ruling = Ruling::Withheld(HeldBack::NoWayIn);
    }
    Ok(Confirmed {
        suspect: found.suspect,
        ruling,
        sacrifice,
        zugzwang,
        argument,
        also: Vec::new(),
        said: None,
    })
}

/// What a coach struck counts no longer, and hides nothing that stands further down its line.
fn overruled<'s>(
    analysis: &TreeAnalysis<'_>,
    mut finding: Confirmed<'s>,
    attempt: Option<&Attempt>,
) -> Confirmed<'s> {
    let suspect = &finding.suspect;
    let struck = attempt.is_some_and(|attempt| {
        let paths = proof_line::paths(analysis, suspect.at);
        let resource = suspect.resource_text(analysis);
        attempt.is_overruled(&paths, suspect.kind().code(), &resource)
    });
    if struck {
        finding.ruling = Ruling::Overruled;
    }
    finding
}
