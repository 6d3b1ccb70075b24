//! What is told, and in which order.
//!
//! Order: what counts first; then by effect on the choice, then by gap, then the earlier half-move.
//! Along one line only the first finding is told: a later one stays only if it still changes the
//! choice's worth once the earlier is granted.

use crate::attempt::Attempt;
use crate::review::analysis::choice_impact::{Added, Granted};
use crate::review::analysis::proof_line;
use crate::review::analysis::tree_analysis::Survey;
use crate::review::confirmation::threshold;
use crate::review::findings;
use crate::review::findings::suspect::Draft;
use crate::review::model::review::{Class, Kind};
use crate::tree::NodeId;

/// How much the choice's worth in the player's own tree changes once the draft's resource is in it.
pub(crate) fn effect(survey: &Survey<'_>, draft: &Draft, granted: &[Added]) -> f64 {
    match draft.kind {
        kind if is_about_the_root(kind) => draft.effect,
        Kind::PhantomMove => phantom_effect(survey, draft),
        _ => match findings::addition(draft) {
            Some(added) => Granted::new(survey, granted).effect(added),
            None => 0.0,
        },
    }
}

/// Kinds that compare the choice with something else at the root: their effect is what that would have
/// gained.
pub(crate) fn is_about_the_root(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::MissedCandidate | Kind::WrongChoice | Kind::FearedTooMuch | Kind::MissedThreat
    )
}

/// Kinds that no search can confirm or deny.
pub(crate) fn is_by_the_board(kind: Kind) -> bool {
    matches!(kind, Kind::PhantomMove | Kind::BareCandidate)
}

/// A phantom move under the choice takes with it what the player saw below it.
fn phantom_effect(survey: &Survey<'_>, draft: &Draft) -> f64 {
    if survey.is_under_choice(draft.node.unwrap_or(NodeId::ROOT)) {
        draft.gap
    } else {
        0.0
    }
}

/// Gives the drafts their effect: each by itself, and where that is none, with the others granted. Of two
/// continuations that are refuted alike, each seems to make the other's refutation harmless; only both of them
/// together show what the choice is worth.
pub(crate) fn weigh(survey: &Survey<'_>, drafts: &mut [Draft]) {
    let little = survey.settings.delta / 2.0;
    for draft in drafts.iter_mut() {
        draft.effect = effect(survey, draft, &[]);
    }
    let granted: Vec<Added> = (drafts.iter())
        .filter(|draft| can_be_granted(survey, draft))
        .filter_map(findings::addition)
        .collect();
    let granted = Granted::new(survey, &granted);
    for draft in drafts.iter_mut() {
        if draft.effect < little
            && can_be_granted(survey, draft)
            && let Some(added) = findings::addition(draft)
        {
            let joint = granted.effect_alone(added);
            if joint >= little {
                draft.effect = joint;
            }
        }
    }
}

fn can_be_granted(survey: &Survey<'_>, draft: &Draft) -> bool {
    matches!(draft.class, Class::Counted | Class::Aside)
        && !is_by_the_board(draft.kind)
        && !is_about_the_root(draft.kind)
        && survey.is_under_choice(draft.at)
}

/// What a coach struck counts no longer, and hides nothing that stands further down its line.
pub(crate) fn overruled(survey: &Survey<'_>, drafts: &mut [Draft], attempt: &Attempt) {
    for draft in drafts {
        let paths = proof_line::paths(survey, draft.at);
        let resource = draft.resource_text(survey, survey.place(draft.at));
        if attempt.is_overruled(&paths, &draft.kind.name(), &resource) {
            draft.class = Class::Overruled;
        }
    }
}

/// True where the finding, if it stands, is told beside the choice and counts for nothing.
pub(crate) fn is_beside(survey: &Survey<'_>, draft: &Draft) -> bool {
    draft.effect < survey.settings.delta / 2.0 && !is_on_choice(survey, draft)
}

/// The drafts with their final class, in the order of telling.
pub(crate) fn folded(survey: &Survey<'_>, mut drafts: Vec<Draft>) -> Vec<Draft> {
    weigh(survey, &mut drafts);
    for draft in &mut drafts {
        // What was told as counted stays so, whatever came after it.
        if draft.class == Class::Counted && draft.told.is_none() && is_beside(survey, draft) {
            draft.class = Class::Aside;
        }
    }
    sort(survey, &mut drafts);
    merge_transpositions(survey, &mut drafts);
    fold_along_lines(survey, &mut drafts);
    let delta = survey.settings.delta;
    drafts.retain(|d| d.class != Class::Aside || threshold::is_told_beside(delta, d));
    sort(survey, &mut drafts);
    drafts
}

/// An impossible move in the choice's own lines always counts: the picture of the board was wrong
/// where it mattered, whatever came of it.
fn is_on_choice(survey: &Survey<'_>, draft: &Draft) -> bool {
    draft.kind == Kind::PhantomMove
        && draft.class == Class::Counted
        && draft.node.is_some_and(|n| survey.is_under_choice(n))
}

/// By effect, then by gap, then the earlier half-move.
pub(crate) fn by_effect(survey: &Survey<'_>, drafts: &mut [Draft]) {
    drafts.sort_by(|a, b| {
        b.effect
            .total_cmp(&a.effect)
            .then(b.gap.total_cmp(&a.gap))
            .then(a.ply(survey).cmp(&b.ply(survey)))
            .then(a.kind.cmp(&b.kind))
            .then(a.at.cmp(&b.at))
    });
}

/// What was told already keeps its place; then what counts, by effect.
fn sort(survey: &Survey<'_>, drafts: &mut [Draft]) {
    by_effect(survey, drafts);
    drafts.sort_by_key(|d| (d.class, d.told.unwrap_or(usize::MAX)));
}

/// True where the draft would only repeat what a counted one above it on its line says.
pub(crate) fn is_folded(survey: &Survey<'_>, draft: &Draft, standing: &[Draft]) -> bool {
    let above = granted_above(survey, draft, standing);
    draft.class == Class::Counted
        && !above.is_empty()
        && effect(survey, draft, &above) < survey.settings.delta / 2.0
}

fn granted_above(survey: &Survey<'_>, draft: &Draft, standing: &[Draft]) -> Vec<Added> {
    standing
        .iter()
        .filter(|d| d.class == Class::Counted && is_above(survey, d, draft))
        .filter_map(findings::addition)
        .collect()
}

/// The findings that are sure now, in the order of telling: counted, with nothing still to be asked about
/// that could fold them or cost more. What is left may still gain as much as delta by being asked again.
pub(crate) fn sure<'d>(
    survey: &Survey<'_>,
    standing: &'d mut [Draft],
    rest: &[Draft],
) -> Vec<&'d Draft> {
    let most = rest
        .iter()
        .map(|d| d.effect + survey.settings.delta)
        .fold(0.0, f64::max);
    let mut told = standing.iter().filter(|d| d.told.is_some()).count();
    let all = folded(survey, standing.to_vec());
    let counted = all
        .iter()
        .filter(|d| d.class == Class::Counted && d.told.is_none());
    let mut new = Vec::new();
    for draft in counted {
        if draft.effect < most || rest.iter().any(|r| is_above(survey, r, draft)) {
            break;
        }
        let same =
            |d: &Draft| d.kind == draft.kind && d.at == draft.at && d.resource == draft.resource;
        if let Some(at) = standing.iter().position(same) {
            if let Some(draft) = standing.get_mut(at) {
                draft.told = Some(told);
            }
            told += 1;
            new.push(at);
        }
    }
    new.into_iter().filter_map(|at| standing.get(at)).collect()
}

/// The same oversight in the same position, reached in two ways, is told once (with both ways).
fn merge_transpositions(survey: &Survey<'_>, drafts: &mut Vec<Draft>) {
    let mut seen = Vec::new();
    drafts.retain(|draft| {
        let Some(key) = survey.place(draft.at).map(|p| p.line.key()) else {
            return true;
        };
        let mark = (
            draft.kind,
            key,
            draft.resource.clone(),
            draft.node.filter(|_| draft.resource.is_none()),
        );
        let new = !seen.contains(&mark);
        seen.push(mark);
        new
    });
}

/// A later finding on a line folds under the first counted one above it.
fn fold_along_lines(survey: &Survey<'_>, drafts: &mut [Draft]) {
    for later in 0..drafts.len() {
        let folds = |draft| is_folded(survey, draft, drafts);
        if drafts.get(later).is_some_and(folds)
            && let Some(draft) = drafts.get_mut(later)
        {
            draft.class = Class::Aside;
        }
    }
}

/// True where `a` stands on the way to `b`.
fn is_above(survey: &Survey<'_>, a: &Draft, b: &Draft) -> bool {
    a.at != b.at && a.at != NodeId::ROOT && survey.tree.path(b.at).contains(&a.at)
}
