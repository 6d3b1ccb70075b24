//! What a suspect does to the choice's worth.

use crate::review::analysis::choice_impact::{Added, Granted};
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::findings::suspect::Suspect;
use crate::score::ScoreDiff;

/// How much the choice's worth in the player's own tree changes once the suspect's resource is in it.
pub(crate) fn effect(
    analysis: &TreeAnalysis<'_>,
    suspect: &Suspect<'_>,
    granted: &[Added],
) -> ScoreDiff {
    if suspect.fault.is_picture_of_the_board() {
        return of_illegal_move(analysis, suspect);
    }
    match addition(suspect) {
        Some(added) => Granted::new(analysis, granted).effect(added),
        None => suspect.effect,
    }
}

/// An impossible move under the choice takes with it what the player saw below it.
fn of_illegal_move(analysis: &TreeAnalysis<'_>, suspect: &Suspect<'_>) -> ScoreDiff {
    let node = suspect.illegal_node();
    if node.is_some_and(|n| analysis.is_under_choice(n)) {
        suspect.gap()
    } else {
        ScoreDiff::ZERO
    }
}

/// What a suspect adds to the player's tree; `None` for kinds that are about the root itself.
pub(crate) fn addition(suspect: &Suspect<'_>) -> Option<Added> {
    let about_a_line = !suspect.fault.is_about_the_root();
    about_a_line.then_some(Added {
        at: suspect.at,
        worth: suspect.truth,
    })
}

/// Gives the suspects their effect: each by itself, and where that is none, with the others granted. Of two
/// continuations that are refuted alike, each seems to make the other's refutation harmless; only both of them
/// together show what the choice is worth. What may not be granted stands alone.
pub(crate) fn weigh(analysis: &TreeAnalysis<'_>, suspects: &mut [(&mut Suspect<'_>, bool)]) {
    let little = analysis.settings.delta.half();
    for (suspect, _) in suspects.iter_mut() {
        suspect.effect = effect(analysis, suspect, &[]);
    }
    let granted: Vec<Added> = suspects
        .iter()
        .filter(|(suspect, may_be)| *may_be && can_be_granted(analysis, suspect))
        .filter_map(|(suspect, _)| addition(suspect))
        .collect();
    let granted = Granted::new(analysis, &granted);
    for (suspect, may_be) in suspects.iter_mut() {
        if suspect.effect < little
            && *may_be
            && can_be_granted(analysis, suspect)
            && let Some(added) = addition(suspect)
        {
            let joint = granted.effect_alone(added);
            if joint >= little {
                suspect.effect = joint;
            }
        }
    }
}

fn can_be_granted(analysis: &TreeAnalysis<'_>, suspect: &Suspect<'_>) -> bool {
    !suspect.fault.is_by_the_board()
        && !suspect.fault.is_about_the_root()
        && analysis.is_under_choice(suspect.at)
}
