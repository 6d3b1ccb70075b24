//! The review: where a written tree and the truth part.
//!
//! Takes a written tree with its choice ([`ReviewInput`]) and a [`Judge`]; gives a [`Review`]: what was
//! right, the [`Finding`]s in order of what they cost, and how deep, how complete and how well aimed
//! the calculation was. It owns no threads and reads no clock: the same tree and judge give the same
//! review, byte for byte. It must never know a store, a screen or how a review is printed.
//!
//! A table of contents, each stage building on those before it:
//!
//! 1. [`model`]: the values, and every threshold;
//! 2. [`analysis`]: the judge on every written position and every move that must be compared there, and what the
//!    player's own verdicts make of his tree;
//! 3. [`findings`]: one file a kind, what seems to be wrong;
//! 4. [`confirmation`]: asked again with four times the nodes, settled, ordered;
//! 5. [`measures`]: what is no fault, and what is counted across attempts;
//! 6. [`wording`]: alone makes sentences, of evidence only.

mod analysis;
mod confirmation;
mod findings;
mod measures;
mod model;
#[cfg(test)]
mod tests;
mod wording;

use crate::board::line;
use crate::judge::{Judge, JudgeError};
use analysis::judge_client::JudgeClient;
use analysis::tree_analysis::TreeAnalysis;
use confirmation::telling;
use measures::coverage::Reference;
use measures::{credits, decided, depth, end_card, process, threat_notes, trials, unjudged};

pub use model::finding::{
    Finding, FindingHeading, FindingKind, FindingPart, FindingStatus, Sacrifice, StoredFindingKind,
    Turn,
};
pub use model::input::{ReviewInput, ReviewObserver};
pub use model::measures::{Coverage, Depth, Expected, Focus, Process};
pub use model::notes::{Credit, EndCardRead, Held, Note, NoteKind, Unjudged};
pub use model::review::Review;
pub use model::settings::Settings;
pub use model::trial::{Stated, Trial, Trials};
pub use model::verdicts::{standing, value_of as value_of_verdict};
pub use wording::depth_words;

/// Compares a written tree with the truth. The [`ReviewObserver`] may be a closure that takes the number of
/// questions answered and asked so far.
///
/// # Errors
/// The judge failed; there is no half review.
pub fn review(
    written: &ReviewInput<'_>,
    judge: &dyn Judge,
    settings: &Settings,
    watcher: &mut dyn ReviewObserver,
) -> Result<Review, JudgeError> {
    let mut client = JudgeClient::new(judge, settings.nodes, watcher);
    let analysis = TreeAnalysis::of(written, settings, &mut client)?;
    let right = credits::right(&analysis);
    client.watcher().right(&right);

    let suspects = findings::all(&analysis);
    let asked: Vec<trials::Mark> = suspects.iter().map(trials::mark).collect();
    let found = confirmation::confirmed(&analysis, suspects, written.attempt, &mut client)?;

    let depth = depth::depth(&analysis, &found, &mut client)?;
    let reference = Reference::of(&analysis, depth.needed);
    let mut notes = threat_notes::notes(&analysis, &mut client)?;
    notes.extend(decided::notes(&analysis, &mut client)?);
    let clock = trials::Clock::of(written.attempt);
    Ok(Review {
        judge: judge.name(),
        nodes: settings.nodes,
        root: line::fen(written.tree.root().position()),
        ply_in_game: written.ply_in_game,
        choice: written.choice.map(|c| written.tree.san(c)),
        expected: Expected {
            best: analysis.root().worth,
            choice: analysis.choice_worth(),
        },
        opening: telling::opening(&analysis, found.first(), !found.is_empty()),
        right,
        findings: found
            .iter()
            .map(|f| telling::finding(&analysis, f))
            .collect(),
        end_card: end_card::read(&analysis, written.attempt),
        notes,
        unjudged: unjudged::unjudged(&analysis),
        depth,
        coverage: reference.coverage(),
        focus: reference.focus(&analysis),
        process: written.attempt.map(process::process),
        trials: trials::trials(&analysis, &asked, &found, &clock),
    })
}
