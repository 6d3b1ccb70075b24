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
use crate::review::analysis::judge_client::Asker;
use crate::review::analysis::proof_line;
use crate::review::analysis::tree_analysis::{Place, Survey};
use crate::review::model::review::{Note, NoteKind};
use crate::review::wording;
use crate::tree::NodeId;

/// One note whose first move can be played after the pass.
struct Noted {
    pass: NodeId,
    /// The position after the pass, without a past: the side that would move twice is its root's.
    passed: Line,
    moves: Vec<Move>,
}

/// What became of every threat note, in the order of writing.
pub(crate) fn notes(survey: &Survey<'_>, asker: &mut Asker<'_>) -> Result<Vec<Note>, JudgeError> {
    let mut notes = Vec::new();
    for noted in noted(survey) {
        notes.extend(note(survey, &noted, asker)?);
    }
    Ok(notes)
}

fn noted(survey: &Survey<'_>) -> Vec<Noted> {
    let tree = survey.tree;
    let passes = tree
        .nodes()
        .filter(|(id, n)| tree.stands(*id) && n.reading == Reading::Pass);
    passes
        .filter_map(|(pass, _)| {
            let passed = passed(survey.place(tree.parent(pass)?)?)?;
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
pub(crate) fn why_not(survey: &Survey<'_>, pass: NodeId) -> Option<String> {
    let before = survey.place(survey.tree.parent(pass)?)?;
    if passed(before).is_none() {
        return Some(wording::pass_in_check());
    }
    let checked = noted(survey).iter().any(|n| n.pass == pass);
    (!checked).then(wording::nothing_noted)
}

/// The position if the side to move could do nothing; `None` in check.
pub(crate) fn passed(place: &Place) -> Option<Line> {
    place
        .line
        .position()
        .clone()
        .swap_turn()
        .ok()
        .map(Line::new)
}

fn note(
    survey: &Survey<'_>,
    noted: &Noted,
    asker: &mut Asker<'_>,
) -> Result<Option<Note>, JudgeError> {
    let Some(parent) = survey.tree.parent(noted.pass) else {
        return Ok(None);
    };
    let Some(before) = survey.place(parent) else {
        return Ok(None);
    };
    let delta = survey.settings.delta;
    let nodes = asker.nodes;
    let (mut gain, mut worth, mut pv) = best(survey, noted, before, nodes, asker)?;
    if gain < delta / 2.0 {
        (gain, worth, pv) = best(
            survey,
            noted,
            before,
            nodes * survey.settings.confirm,
            asker,
        )?;
    }
    let about = match gain {
        g if g >= delta => NoteKind::ThreatHolds,
        g if g < delta / 2.0 => NoteKind::NoThreat,
        _ => return Ok(None),
    };
    let root = Place::bare(noted.passed.clone());
    let told = line::sans(noted.passed.position(), proof_line::told(&root, &pv, worth));
    Ok(Some(Note {
        about,
        path: survey.tree.sans(noted.pass),
        sentence: wording::threat_note(about, before.is_players_turn(), &told, worth),
        node: noted.pass,
    }))
}

/// The most that one of the noted moves gains for its side, what it leaves the player, and its line.
fn best(
    survey: &Survey<'_>,
    noted: &Noted,
    before: &Place,
    nodes: u64,
    asker: &mut Asker<'_>,
) -> Result<(f64, f64, Vec<Move>), JudgeError> {
    let lines: Vec<Line> = noted
        .moves
        .iter()
        .filter_map(|mv| noted.passed.child(mv).ok())
        .collect();
    let own = noted.passed.player() == survey.player();
    let searched = asker
        .after_moves(&lines, nodes)?
        .into_iter()
        .map(|(worth, pv)| {
            // Told for the side that moves after the pass; everything here is the player's.
            let worth = if own { worth } else { 1.0 - worth };
            (before.prefers(before.worth, worth), worth, pv)
        });
    let best = searched.max_by(|a, b| a.0.total_cmp(&b.0));
    Ok(best.unwrap_or((0.0, before.worth, Vec::new())))
}
