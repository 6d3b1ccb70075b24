//! Threat notes: a null move (`--`) and what stands below it, checked for truth.
//!
//! A note says that its first move would be good if the other side did nothing. It is one if that move
//! leaves its side better off by delta than the position before the pass was; below half of that it is
//! none, and that is only said after asking again with the nodes of a confirmation. What lies between is
//! left alone. Nothing is backed up from a note, and it counts for nothing.

use shakmaty::{Move, Position};

use crate::board::{Line, line};
use crate::judge::JudgeError;
use crate::notation::{self, Reading};
use crate::review::analysis::judge_client::{JudgeClient, played};
use crate::review::analysis::position::AnalysedPosition;
use crate::review::analysis::proof_line;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::model::notes::{Note, NoteKind};
use crate::review::wording;
use crate::score::{PlayerScore, ScoreDiff};
use crate::tree::NodeId;

/// One note whose first move can be played after the pass.
struct Noted {
    pass: NodeId,
    /// The position after the pass, without a past: the side that would move twice is its root's.
    passed: Line,
    moves: Vec<Move>,
}

/// What became of every threat note, in the order of writing.
pub(crate) fn notes(
    analysis: &TreeAnalysis<'_>,
    client: &mut JudgeClient<'_>,
) -> Result<Vec<Note>, JudgeError> {
    let mut notes = Vec::new();
    for noted in noted(analysis) {
        notes.extend(note(analysis, &noted, client)?);
    }
    Ok(notes)
}

fn noted(analysis: &TreeAnalysis<'_>) -> Vec<Noted> {
    let tree = analysis.tree;
    let passes = tree
        .nodes()
        .filter(|(id, n)| tree.stands(*id) && n.reading == Reading::Pass);
    passes
        .filter_map(|(pass, _)| {
            let passed = passed(analysis.place(tree.parent(pass)?)?)?;
            let moves: Vec<Move> = tree
                .standing(pass)
                .filter_map(|c| match notation::resolve(&tree.node(c)?.token, &passed) {
                    Reading::Legal(mv) => Some(mv),
                    _ => None,
                })
                .collect();
            (!moves.is_empty()).then_some(Noted {
                pass,
                passed,
                moves,
            })
        })
        .collect()
}

/// Why a threat note could not be checked; `None` where it could.
pub(crate) fn why_not(analysis: &TreeAnalysis<'_>, pass: NodeId) -> Option<String> {
    let before = analysis.place(analysis.tree.parent(pass)?)?;
    if passed(before).is_none() {
        return Some(wording::pass_in_check());
    }
    let checked = noted(analysis).iter().any(|n| n.pass == pass);
    (!checked).then(wording::nothing_noted)
}

/// The position if the side to move could do nothing; `None` in check.
pub(crate) fn passed(place: &AnalysedPosition) -> Option<Line> {
    place
        .line
        .position()
        .clone()
        .swap_turn()
        .ok()
        .map(Line::new)
}

fn note(
    analysis: &TreeAnalysis<'_>,
    noted: &Noted,
    client: &mut JudgeClient<'_>,
) -> Result<Option<Note>, JudgeError> {
    let Some(parent) = analysis.tree.parent(noted.pass) else {
        return Ok(None);
    };
    let Some(before) = analysis.place(parent) else {
        return Ok(None);
    };
    let delta = analysis.settings.delta;
    let nodes = client.nodes;
    let (mut gain, mut worth, mut pv) = best(analysis, noted, before, nodes, client)?;
    if gain < delta.half() {
        (gain, worth, pv) = best(
            analysis,
            noted,
            before,
            nodes * analysis.settings.confirm,
            client,
        )?;
    }
    let about = match gain {
        g if g >= delta => NoteKind::ThreatHolds,
        g if g < delta.half() => NoteKind::NoThreat,
        _ => return Ok(None),
    };
    let told = proof_line::told(&noted.passed, &pv, worth);
    let told = line::sans(noted.passed.position(), told);
    let numbered = line::numbered_after_pass(noted.passed.position(), &told);
    Ok(Some(Note {
        about,
        path: analysis.tree.sans(noted.pass),
        sentence: wording::threat_note(about, before.is_players_turn(), (&told, &numbered), worth),
        node: noted.pass,
    }))
}

/// The most that one of the noted moves gains for its side, what it leaves the player, and its line.
fn best(
    analysis: &TreeAnalysis<'_>,
    noted: &Noted,
    before: &AnalysedPosition,
    nodes: u64,
    client: &mut JudgeClient<'_>,
) -> Result<(ScoreDiff, PlayerScore, Vec<Move>), JudgeError> {
    let lines = noted.moves.iter().map(|mv| played(&noted.passed, mv));
    let lines = lines.collect::<Result<Vec<Line>, JudgeError>>()?;
    let own = noted.passed.player() == analysis.player();
    let searched = client
        .after_moves(&lines, nodes)?
        .into_iter()
        .map(|(worth, pv)| {
            // Told for the side that moves after the pass; everything here is the player's.
            let worth = if own { worth } else { worth.of_opponent() };
            (before.prefers(before.worth, worth), worth, pv)
        });
    let best = searched.max_by(|a, b| a.0.total_cmp(&b.0));
    best.ok_or(JudgeError::Unanswered)
}
