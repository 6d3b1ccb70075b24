//! The review: where a written tree and the truth part.
//!
//! Takes a written tree with its choice ([`Written`]) and a [`Judge`]; gives a [`Review`]: what was
//! right, the [`Finding`]s in order of what they cost, and how deep, how complete and how well aimed
//! the calculation was. It owns no threads and reads no clock: the same tree and judge give the same
//! review, byte for byte.
//!
//! The way through the files: [`survey`] asks the judge about every written position and every move
//! that must be compared there; [`own`] says what the player's own verdicts make of his tree;
//! [`detect`] holds one function per kind of finding; [`confirm`] asks again with four times the
//! nodes and drops what does not stand; [`order`] decides what is told and in which order; [`right`],
//! [`card`], [`depth`], [`coverage`] and [`process`] add what is not a fault; [`trials`] keeps what is
//! counted across attempts; [`wording`] alone makes sentences.

mod asker;
mod card;
mod confirm;
mod coverage;
mod depth;
mod detect;
mod draft;
mod image;
mod order;
mod own;
mod process;
mod proof;
mod refute;
mod right;
mod survey;
#[cfg(test)]
mod tests;
mod trials;
mod value;
mod wording;

use crate::attempt::Attempt;
use crate::board::line;
use crate::judge::{Expectation, Judge, JudgeError};
use crate::notation::Reading;
use crate::tree::{NodeId, Tree};

pub use own::value_of as value_of_verdict;
pub use trials::{Stated, Trial, Trials};
pub use value::{
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

/// Compares a written tree with the truth.
///
/// `progress` is called with the number of questions answered and asked so far; the second number
/// grows while the review goes deeper.
///
/// # Errors
/// The judge failed; there is no half review.
pub fn review(
    written: &Written<'_>,
    judge: &dyn Judge,
    settings: &Settings,
    progress: &mut dyn FnMut(usize, usize),
) -> Result<Review, JudgeError> {
    let mut asker = asker::Asker::new(judge, settings.nodes, progress);
    let survey = survey::Survey::take(written, settings, &mut asker)?;
    let drafts = detect::all(&survey);
    let asked: Vec<trials::Mark> = drafts.iter().map(trials::mark).collect();
    let mut drafts = confirm::confirmed(&survey, drafts, &mut asker)?;
    if let Some(attempt) = written.attempt {
        order::overruled(&survey, &mut drafts, attempt);
    }
    let drafts = order::folded(&survey, drafts);
    let depth = depth::depth(&survey, &drafts, &mut asker)?;
    let reference = coverage::Reference::of(&survey, depth.needed);
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
        right: right::right(&survey),
        findings: drafts.iter().map(|d| d.finish(&survey)).collect(),
        end_card: card::read(&survey, written.attempt),
        notes: Vec::new(),
        unjudged: unjudged(written.tree),
        depth,
        coverage: reference.coverage(&survey),
        focus: reference.focus(&survey),
        process: written.attempt.map(process::process),
        trials: trials::trials(&survey, &asked, &drafts, &clock(written)),
    })
}

/// The clock of the sitting, where there was one.
fn clock(written: &Written<'_>) -> trials::Clock {
    let clock = written.attempt.map(|a| trials::Clock {
        start_ms: a.started_ms().unwrap_or(0),
        budget_ms: a.opened().budget_ms,
    });
    clock.unwrap_or_default()
}

/// The standing moves without a position to judge them in, and why.
fn unjudged(tree: &Tree) -> Vec<Unjudged> {
    let mut found = Vec::new();
    for (id, node) in tree.nodes().filter(|(id, _)| tree.stands(*id)) {
        let why = match &node.reading {
            Reading::Ambiguous(moves) => wording::ambiguous(&node.text, moves.len()),
            Reading::Unplaced if tree.parent(id).is_some_and(|p| !is_unplaced(tree, p)) => {
                wording::unplaced(&tree.parent(id).map(|p| tree.san(p)).unwrap_or_default())
            }
            Reading::Pass => wording::pass(),
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
        .is_some_and(|n| n.reading == Reading::Unplaced)
}
