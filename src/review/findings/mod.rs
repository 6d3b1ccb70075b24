//! Where the tree and the truth part, before anything is asked again.
//!
//! In comes a finished [`TreeAnalysis`]; out come all [`Suspect`]s, each with its
//! [`Fault`](crate::review::model::fault::Fault), both scores and what it does to the choice. One file holds
//! one kind of finding or a family of them, its definition in the doc comment of its function. All scores are
//! the player's; the thresholds are in the settings and in [`thresholds`](crate::review::model::thresholds).
//!
//! Nothing in here asks the judge, decides what counts, or knows how a finding is worded.

pub mod bare_candidate;
pub mod effect;
pub mod end_of_line;
pub mod feared_reply;
pub mod forward_image;
pub mod illegal_move;
pub mod missed_candidate;
pub mod missed_move;
pub mod missed_threat;
pub mod suspect;
pub mod wrong_choice;

use crate::review::analysis::tree_analysis::TreeAnalysis;
use suspect::Suspect;

/// All that is to be asked about again, with what it does to the choice as far as that matters to others.
pub(crate) fn all<'s>(analysis: &'s TreeAnalysis<'_>) -> Vec<Suspect<'s>> {
    let mut suspects = in_the_lines(analysis);
    suspects.extend(missed_candidate::detect(analysis));
    let wrong = wrong_choice::detect(analysis, &suspects);
    suspects.extend(wrong);
    suspects.extend(bare_candidate::detect(analysis));
    suspects.extend(feared_reply::detect(analysis));
    let threat = missed_threat::detect(analysis);
    // The more telling kind: the same move, as a reply to something that was written.
    let is_told = |threat: &Suspect<'_>| {
        let same = |s: &Suspect<'_>| s.at == threat.at && s.resource() == threat.resource();
        suspects.iter().any(|s| same(s) && !s.fault.is_bare())
    };
    let threat = threat.filter(|t| !is_told(t));
    suspects.extend(threat);
    suspects
}

/// What is wrong at a place for itself, weighed.
fn in_the_lines<'s>(analysis: &'s TreeAnalysis<'_>) -> Vec<Suspect<'s>> {
    let mut suspects = Vec::new();
    for (id, place) in &analysis.places {
        suspects.extend(missed_move::resource(analysis, *id, place));
        suspects.extend(missed_move::reply(analysis, *id, place));
        suspects.extend(end_of_line::detect(analysis, *id, place));
        suspects.extend(end_of_line::seen_misjudged(analysis, *id, place));
    }
    suspects.extend(illegal_move::detect(analysis));
    suspects.extend(illegal_move::false_mates(analysis));
    for suspect in &mut suspects {
        suspect.effect = effect::effect(analysis, suspect, &[]);
    }
    suspects
}
