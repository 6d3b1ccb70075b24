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
//!
//! # Definitions that practice has changed
//!
//! - **Depth and forcing class are no blind spots.** They are what trials are compared within. Asked about,
//!   they named 'deep moves' for a simulated player without weakness in one run of five.
//! - **One trial an opponent's turn**, not one for each critical reply: his best reply or one as good. Only
//!   the best unwritten one is confirmed by a second search, and unconfirmed ones count noise.
//! - **Critical replies are told from the other replies, not from the verdict that stood**: a definition that
//!   asks what he wrote counts those more often who wrote less. A line that ends there with a right verdict
//!   counts as seen.
//! - **Effect** is the change of the choice's worth in the player's own tree. For the two kinds that are
//!   about the root itself (missed candidate, wrong choice) it is what the better move would have gained
//!   over the choice: a better move found does not change what he believed of his own.
//! - **Own worth** of a line's end is the middle of the verdict's range; 'winning' is the most a tree can
//!   say, so a forced mate counts no more than that in his own tree. Otherwise every line he judged won
//!   would hide a second 'finding' that it was won by mate.
//! - A **game with a FEN tag is one written tree** at its root: its main line is the choice's line, and
//!   every variation belongs to the tree. An ordinary game gives one tree for each position where
//!   variations stand.
//! - **Lost anyway**: what hung already is given up if some move would have saved it without losing the game;
//!   'within delta of the best' is too narrow, since nothing is within delta of a sacrifice that alone is good.
//! - **Needed and sound agree with the findings**: `sound` stops before the first counted finding on the choice's
//!   line, and `needed` goes at least as far as it. A position on the way may look like the truth to a glance while
//!   the reason is still to come: at Bernstein-Capablanca 1914 the figures said '3 needed' beside a finding at
//!   half-move 6.
//! - **Won is won**: where the written move wins (.78) and the better one wins more, the difference is counted on the
//!   scale of verdicts, where 'winning' ends at .89. The truth bench found a mate told against a move that an
//!   independent engine wins with as well.
//! - **A verdict on a finished game** is held against the rule; the finding has no resource and names the last move.
//! - **An impossible move under the choice always counts**; elsewhere it is told beside.
//! - **A repetition saves only where it cannot be left**: a search takes a position for a draw wherever it comes again.
//!   After 38.Kg3 of Botvinnik - Capablanca 1938 checks that go round were told as a draw; from the position that repeats,
//!   as if it had not stood before, the win is seen at once.
//! - **A threat** is what gains by force or by itself: a quiet move that a pass would allow, and that shows nothing, is a
//!   judgement of the position, and counts only where it turns a verdict.
//!
//! The effect of a finding is what its move alone does to the choice in the player's tree. Where that is nothing, it is what
//! the move does once the others are granted: of two continuations that are refuted alike, each alone leaves the other to
//! go to, and both would be told beside the choice although together they refute it.
//!
//! # What is asked
//!
//! First comes what the choice hangs on (`confirmation::ahead`): the line that his own verdicts make the main one, to the
//! place where it parts from the truth, and what he left out at the root. What is plain there is told while the rest is
//! asked about; no question is asked twice for it.
//!
//! A review asks each written position once; the same question scores the move before it. A move that a
//! search prefers is asked about again only where it could become a finding; the opponent's forcing replies
//! get a fortieth of the nodes, then an eighth, and the full number only where they may matter; findings are
//! confirmed in batches, what costs most first; what folds under a confirmed one is not asked about. Half of a
//! confirmation's nodes will do where the gap is at least 3.5 delta at first sight and still is with them (with 2.5 two
//! false findings came in). A finding beside the choice cannot count: it is told only from a gap of 2 delta on, and
//! confirmed with half of the nodes, for the overlooked move alone.
//!
//! Where one of several engines would wait for another it is given what will be asked anyway and is answered by then: what the
//! whole tree asks while one place is settled ahead, the first questions of the next suspects while a group is settled. No
//! answer depends on it, and so the review is the same with one engine and with many; at most a suspect that folds was asked
//! about in vain.

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
use confirmation::ahead::Ahead;
use confirmation::telling;
use measures::coverage::Reference;
use measures::{
    credits, decided, depth, end_card, move_reads, process, threat_notes, trials, unjudged,
};

pub use model::finding::{
    Finding, FindingHeading, FindingKind, FindingPart, FindingStatus, Sacrifice, StoredFindingKind,
    Turn,
};
pub use model::input::{ReviewInput, ReviewObserver};
pub use model::measures::{Coverage, Depth, Expected, Focus, Process};
pub use model::notes::{Credit, EndCardRead, Held, MoveRead, Note, NoteKind, Unjudged};
pub use model::review::Review;
pub use model::settings::Settings;
pub(crate) use model::thresholds;
pub use model::trial::{Stated, Trial, Trials};
pub use model::verdicts::{standing, value_of as value_of_verdict};
pub use wording::{coverage_words, depth_words, focus_words};

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
    let ahead = Ahead::of(written, settings, &mut client)?;
    let first = match &ahead {
        Some(ahead) => ahead.told(written.attempt, &mut client)?,
        None => None,
    };
    let analysis = TreeAnalysis::of(written, settings, &mut client)?;
    let right = credits::right(&analysis);
    client.watcher().right(&right);

    let suspects = findings::all(&analysis);
    let asked: Vec<trials::Mark> = suspects.iter().map(trials::mark).collect();
    let found = confirmation::confirmed(&analysis, suspects, first, written.attempt, &mut client)?;

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
        moves: move_reads::moves(&analysis),
        depth,
        coverage: reference.coverage(),
        focus: reference.focus(&analysis),
        process: written.attempt.map(process::process),
        trials: trials::trials(&analysis, &asked, &found, &clock),
    })
}
