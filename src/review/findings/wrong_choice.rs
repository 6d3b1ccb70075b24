//! Root: a written candidate was better than the chosen one.

use crate::review::analysis::player_valuation;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::review::model::fault::{ChoiceCause, Fault};
use crate::review::model::finding::FindingKind;
use crate::tree::NodeId;

/// A written candidate beats the choice by delta. Its effect is the same difference. `below` is what was
/// detected in the lines, weighed.
pub(crate) fn detect<'s>(
    analysis: &'s TreeAnalysis<'_>,
    below: &[Suspect<'_>],
) -> Option<Suspect<'s>> {
    let chosen = analysis.chosen()?;
    let root = analysis.root();
    let better = root.written().next()?;
    let node = better.node?;
    let gap = better.worth - chosen.worth;
    if gap < analysis.settings.delta.half() || analysis.is_decided(better.worth, chosen.worth) {
        return None;
    }
    let fault = Fault::WrongChoice {
        better: better.mv.clone(),
        node,
        cause: cause(analysis, below, node),
    };
    let suspect = Suspect::new(NodeId::ROOT, root, fault, (better.worth, chosen.worth))
        .proved_by(&better.pv)
        .with_effect(gap);
    Some(suspect)
}

/// Why he preferred it, after backing up his tree with his verdicts.
fn cause(analysis: &TreeAnalysis<'_>, below: &[Suspect<'_>], better: NodeId) -> ChoiceCause {
    let under = |kinds: &[FindingKind]| {
        below.iter().any(|s| {
            analysis.is_under_choice(s.at)
                && kinds.contains(&s.kind())
                && s.effect >= analysis.settings.delta.half()
        })
    };
    if is_against_own_verdicts(analysis, better) {
        ChoiceCause::AgainstOwnVerdicts
    } else if under(&[
        FindingKind::MissedDefence,
        FindingKind::MissedCounterSacrifice,
        FindingKind::StoppedShort,
    ]) {
        ChoiceCause::RefutationMissed
    } else if under(&[FindingKind::Misjudged]) {
        ChoiceCause::EndMisjudged
    } else if analysis.is_end(better) {
        ChoiceCause::NeverCalculated
    } else {
        ChoiceCause::Unknown
    }
}

fn is_against_own_verdicts(analysis: &TreeAnalysis<'_>, better: NodeId) -> bool {
    let Some(choice) = analysis.choice else {
        return false;
    };
    let (Some(own_choice), Some(own_better)) = (analysis.own(choice), analysis.own(better)) else {
        return false;
    };
    player_valuation::is_judged(analysis, better)
        && player_valuation::is_judged(analysis, choice)
        && own_better - own_choice >= analysis.settings.delta
}
