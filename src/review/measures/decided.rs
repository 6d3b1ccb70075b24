//! Notes on positions that are decided anyway: there no difference counts, but some are worth knowing.

use shakmaty::Position;

use crate::board::line;
use crate::judge::JudgeError;
use crate::review::analysis::judge_client::JudgeClient;
use crate::review::analysis::position::AnalysedMove;
use crate::review::analysis::tree_analysis::TreeAnalysis;
use crate::review::analysis::{proof_line, settling};
use crate::review::model::notes::{Note, NoteKind};
use crate::review::model::thresholds::{
    NOTE_MATE_MAX, RESISTANCE_LONGER, RESISTANCE_MAX, SIMPLE, SIMPLER,
};
use crate::review::wording;
use crate::score::PlayerScore;
use crate::tree::NodeId;

/// At most one note, on the root.
pub(crate) fn notes(
    analysis: &TreeAnalysis<'_>,
    client: &mut JudgeClient<'_>,
) -> Result<Vec<Note>, JudgeError> {
    let Some(chosen) = analysis.chosen() else {
        return Ok(Vec::new());
    };
    if !analysis.is_decided(analysis.root().worth, chosen.worth) {
        return Ok(Vec::new());
    }
    let found = if chosen.worth < PlayerScore::LEVEL {
        longest_resistance(analysis, chosen)
    } else {
        match mate_was_there(analysis, chosen) {
            Some(note) => Some(note),
            None => simpler(analysis, chosen, client)?,
        }
    };
    Ok(found.into_iter().collect())
}

/// Moves to mate that the choice allows, counted from the root: positive where the player mates.
fn mate_by_choice(analysis: &TreeAnalysis<'_>) -> Option<i32> {
    let place = analysis.place(analysis.choice?)?;
    if place.line.position().is_checkmate() {
        return Some(1);
    }
    // Told for the opponent, who moves there.
    match place.mate? {
        n if n < 0 => Some(1 - n),
        n => Some(-n),
    }
}

fn mate_was_there(analysis: &TreeAnalysis<'_>, chosen: &AnalysedMove) -> Option<Note> {
    let root = analysis.root();
    let n = root.mate.filter(|n| (1..=NOTE_MATE_MAX).contains(n))?;
    let best = root.moves.iter().find(|m| Some(&m.mv) == root.pv.first())?;
    let slower = mate_by_choice(analysis).is_none_or(|m| m > n);
    (best.mv != chosen.mv && slower).then(|| {
        let told = proof_line::told(&root.line, &root.pv, root.worth);
        let told = line::sans(root.line.position(), told);
        let told = line::numbered(root.line.position(), &told);
        note(NoteKind::MateWasThere, wording::mate_was_there(n, &told))
    })
}

fn longest_resistance(analysis: &TreeAnalysis<'_>, chosen: &AnalysedMove) -> Option<Note> {
    let root = analysis.root();
    let longest = root
        .mate
        .filter(|n| (-RESISTANCE_MAX..=-1).contains(n))?
        .abs();
    let best = root.pv.first().filter(|mv| **mv != chosen.mv)?;
    let sooner = mate_by_choice(analysis).filter(|n| *n < 0)?.abs();
    (longest - sooner >= RESISTANCE_LONGER).then(|| {
        let best = line::san(root.line.position(), best);
        let best = line::numbered(root.line.position(), &[best]);
        note(
            NoteKind::LongestResistance,
            wording::longest_resistance(&best, longest, sooner),
        )
    })
}

/// A move that wins as well, whose line is settled almost at once where the choice's is not.
fn simpler(
    analysis: &TreeAnalysis<'_>,
    chosen: &AnalysedMove,
    client: &mut JudgeClient<'_>,
) -> Result<Option<Note>, JudgeError> {
    let root = analysis.root();
    let as_good = |m: &&AnalysedMove| {
        m.mv != chosen.mv
            && m.worth >= chosen.worth - analysis.settings.equal
            && m.worth >= analysis.settings.decided
    };
    let Some(other) = root.moves.iter().find(as_good) else {
        return Ok(None);
    };
    let near = analysis.settings.delta.half();
    let won = |glance: PlayerScore| glance >= analysis.settings.decided - near;
    let own = settling::until_settled(&root.line, &chosen.pv, &won, client)?;
    let its = settling::until_settled(&root.line, &other.pv, &won, client)?;
    Ok((its <= SIMPLE && own >= its + SIMPLER).then(|| {
        let told = proof_line::told(&root.line, &other.pv, other.worth);
        let told = line::sans(root.line.position(), told);
        let told = line::numbered(root.line.position(), &told);
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
