//! The review: where a written tree and the truth part.
//!
//! Takes a written tree with its choice ([`Written`]) and a [`Judge`]; gives a [`Review`]: what was
//! right, the [`Finding`]s in order of what they cost, and how deep, how complete and how well aimed
//! the calculation was. It owns no threads and reads no clock: the same tree and judge give the same
//! review, byte for byte.
//!
//! The way through the files: [`survey`] asks the judge about every written position and every move
//! that must be compared there; [`own`] says what the player's own verdicts make of his tree;
//! [`detect`] holds one function per kind of finding; [`confirm`] asks again ([`again`]) with four times
//! the nodes and drops what does not stand ([`class`]); [`order`] decides what is told and in which order; [`right`],
//! [`card`], [`threat`], [`decided`], [`depth`], [`coverage`] and [`process`] add what is not a fault;
//! [`trials`] keeps what is counted across attempts; [`wording`] alone makes sentences.

mod analysis;
mod confirmation;
mod findings;
mod measures;
mod model;
#[cfg(test)]
mod tests;
mod wording;

use crate::attempt::Attempt;
use crate::board::line;
use crate::judge::{Expectation, Judge, JudgeError};
use crate::notation::Reading;
use crate::tree::{NodeId, Tree};

pub use analysis::player_valuation::value_of as value_of_verdict;
pub use measures::trials::{Stated, Trial, Trials};
pub use model::review::{
    Class, Coverage, Depth, EndCardRead, Expected, Finding, Focus, Held, Kind, Note, NoteKind,
    Process, Review, Right, Sacrifice, Settings, Turn, Unjudged,
};
pub use wording::standing;

/// What is reviewed: a tree and the move that was chosen in it.
#[derive(Debug, Clone, Copy)]
pub struct Written<'a> {
    pub tree: &'a Tree,
    /// The candidate the player committed to; `None` where he chose nothing.
    pub choice: Option<NodeId>,
    /// The sitting it comes from; `None` for notes written after the event.
    pub attempt: Option<&'a Attempt>,
    /// Half-moves of the game before the root, where there is a game.
    pub ply_in_game: Option<usize>,
}

/// Who looks on while a review is made.
pub trait Watcher {
    /// Questions answered and asked so far; the second number grows while the review goes deeper.
    fn progress(&mut self, answered: usize, asked: usize);

    /// What held. Told once, before anything is known of the findings.
    fn right(&mut self, right: &[Right]) {
        let _ = right;
    }

    /// A counted finding that is sure. They come in their final order: the review has the same ones first
    /// among its findings. Those that become sure only at the end are not told here.
    fn finding(&mut self, finding: &Finding) {
        let _ = finding;
    }
}

impl<F: FnMut(usize, usize)> Watcher for F {
    fn progress(&mut self, answered: usize, asked: usize) {
        self(answered, asked);
    }
}

/// Compares a written tree with the truth. The [`Watcher`] may be a closure that takes the number of
/// questions answered and asked so far.
///
/// # Errors
/// The judge failed; there is no half review.
pub fn review(
    written: &Written<'_>,
    judge: &dyn Judge,
    settings: &Settings,
    watcher: &mut dyn Watcher,
) -> Result<Review, JudgeError> {
    let mut asker = analysis::judge_client::Asker::new(judge, settings.nodes, watcher);
    let survey = analysis::tree_analysis::Survey::take(written, settings, &mut asker)?;
    let right = measures::credits::right(&survey);
    asker.watcher().right(&right);
    let drafts = findings::all(&survey);
    let asked: Vec<measures::trials::Mark> = drafts.iter().map(measures::trials::mark).collect();
    let drafts = confirmation::confirmed(&survey, drafts, written.attempt, &mut asker)?;
    let drafts = confirmation::ranking::folded(&survey, drafts);
    let depth = measures::depth::depth(&survey, &drafts, &mut asker)?;
    let reference = measures::coverage::Reference::of(&survey, depth.needed);
    let mut notes = measures::threat_notes::notes(&survey, &mut asker)?;
    notes.extend(measures::decided::notes(&survey, &mut asker)?);
    Ok(Review {
        judge: judge.name(),
        nodes: settings.nodes,
        root: line::fen(written.tree.root().position()),
        ply_in_game: written.ply_in_game,
        choice: written.choice.map(|c| written.tree.san(c)),
        expected: Expected {
            best: Expectation::new(survey.root().worth),
            choice: survey.choice_worth().map(Expectation::new),
        },
        right,
        findings: drafts.iter().map(|d| d.finish(&survey)).collect(),
        end_card: measures::end_card::read(&survey, written.attempt),
        notes,
        unjudged: unjudged(&survey),
        depth,
        coverage: reference.coverage(&survey),
        focus: reference.focus(&survey),
        process: written.attempt.map(measures::process::process),
        trials: measures::trials::trials(&survey, &asked, &drafts, &clock(written)),
    })
}

/// The clock of the sitting, where there was one.
fn clock(written: &Written<'_>) -> measures::trials::Clock {
    let clock = written.attempt.map(|a| measures::trials::Clock {
        start_ms: a.started_ms().unwrap_or(0),
        budget_ms: a.opened().budget_ms,
    });
    clock.unwrap_or_default()
}

/// The standing moves without a position to judge them in, and why. What stands below a pass is a threat
/// note, checked elsewhere.
fn unjudged(survey: &analysis::tree_analysis::Survey<'_>) -> Vec<Unjudged> {
    let tree = survey.tree;
    let mut found = Vec::new();
    for (id, node) in tree.nodes().filter(|(id, _)| tree.stands(*id)) {
        let parent = tree.parent(id).unwrap_or(NodeId::ROOT);
        let why = match &node.reading {
            Reading::Ambiguous(moves) => wording::ambiguous(&node.text, moves.len()),
            Reading::Unplaced if !is_unplaced(tree, parent) => wording::unplaced(&tree.san(parent)),
            Reading::Pass => match measures::threat_notes::why_not(survey, id) {
                Some(why) => why,
                None => continue,
            },
            _ => continue,
        };
        found.push(Unjudged {
            path: tree.sans(id),
            why,
            node: id,
        });
    }
    found
}

fn is_unplaced(tree: &Tree, id: NodeId) -> bool {
    tree.node(id)
        .is_some_and(|n| matches!(n.reading, Reading::Unplaced | Reading::Pass))
}
