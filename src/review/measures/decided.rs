//! Notes on positions that are decided anyway: there no difference counts, but some are worth knowing.

use shakmaty::Position;

use super::depth;
use crate::board::line;
use crate::judge::JudgeError;
use crate::review::analysis::judge_client::Asker;
use crate::review::analysis::proof_line;
use crate::review::analysis::tree_analysis::{Scored, Survey};
use crate::review::model::review::{Note, NoteKind};
use crate::review::wording;
use crate::tree::NodeId;

/// Longest mate that is spoken of, in moves.
const MATE_MAX: i32 = 8;
/// A way that is settled within so many half-moves ...
const SIMPLE: usize = 3;
/// ... and so many earlier than the choice is simpler.
const SIMPLER: usize = 4;

/// At most one note, on the root.
pub(crate) fn notes(survey: &Survey<'_>, asker: &mut Asker<'_>) -> Result<Vec<Note>, JudgeError> {
    let Some(chosen) = survey.chosen() else {
        return Ok(Vec::new());
    };
    if !survey.is_decided(survey.root().worth, chosen.worth) {
        return Ok(Vec::new());
    }
    let found = if chosen.worth < 0.5 {
        longest_resistance(survey, chosen)
    } else {
        match mate_was_there(survey, chosen) {
            Some(note) => Some(note),
            None => simpler(survey, chosen, asker)?,
        }
    };
    Ok(found.into_iter().collect())
}

/// Moves to mate that the choice allows, counted from the root: positive where the player mates.
fn mate_by_choice(survey: &Survey<'_>) -> Option<i32> {
    let place = survey.place(survey.choice?)?;
    if place.line.position().is_checkmate() {
        return Some(1);
    }
    // Told for the opponent, who moves there.
    match place.mate? {
        n if n < 0 => Some(1 - n),
        n => Some(-n),
    }
}

fn mate_was_there(survey: &Survey<'_>, chosen: &Scored) -> Option<Note> {
    let root = survey.root();
    let n = root.mate.filter(|n| (1..=MATE_MAX).contains(n))?;
    let best = root.moves.iter().find(|m| Some(&m.mv) == root.pv.first())?;
    let slower = mate_by_choice(survey).is_none_or(|m| m > n);
    (best.mv != chosen.mv && slower).then(|| {
        let told = line::sans(
            root.line.position(),
            proof_line::told(root, &root.pv, root.worth),
        );
        note(NoteKind::MateWasThere, wording::mate_was_there(n, &told))
    })
}

fn longest_resistance(survey: &Survey<'_>, chosen: &Scored) -> Option<Note> {
    let root = survey.root();
    let longest = root.mate.filter(|n| (-20..=-1).contains(n))?.abs();
    let best = root.pv.first().filter(|mv| **mv != chosen.mv)?;
    let sooner = mate_by_choice(survey).filter(|n| *n < 0)?.abs();
    (longest - sooner >= 2).then(|| {
        let best = line::san(root.line.position(), best);
        note(
            NoteKind::LongestResistance,
            wording::longest_resistance(&best, longest, sooner),
        )
    })
}

/// A move that wins as well, whose line is settled almost at once where the choice's is not.
fn simpler(
    survey: &Survey<'_>,
    chosen: &Scored,
    asker: &mut Asker<'_>,
) -> Result<Option<Note>, JudgeError> {
    let root = survey.root();
    let as_good = |m: &&Scored| {
        m.mv != chosen.mv
            && m.worth >= chosen.worth - survey.settings.equal
            && m.worth >= survey.settings.decided
    };
    let Some(other) = root.moves.iter().find(as_good) else {
        return Ok(None);
    };
    let near = survey.settings.delta / 2.0;
    let won = |glance: f64| glance >= survey.settings.decided - near;
    let own = depth::until_settled(&root.line, &chosen.pv, &won, asker)?;
    let its = depth::until_settled(&root.line, &other.pv, &won, asker)?;
    Ok((its <= SIMPLE && own >= its + SIMPLER).then(|| {
        let told = line::sans(
            root.line.position(),
            proof_line::told(root, &other.pv, other.worth),
        );
        note(NoteKind::Simpler, wording::simpler(&told))
    }))
}

fn note(about: NoteKind, sentence: String) -> Note {
    Note {
        about,
        path: Vec::new(),
        sentence,
        node: NodeId::ROOT,
    }
}
