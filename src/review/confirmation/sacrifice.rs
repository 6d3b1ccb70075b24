//! What only the judge can tell of a resource: whether what it leaves hanging is given or was lost anyway,
//! and whether every move harms the side that has to answer it.

use shakmaty::{Move, Position};

use crate::board::{Line, motif, sacrifice};
use crate::judge::JudgeError;
use crate::review::analysis::judge_client::Asker;
use crate::review::analysis::tree_analysis::{Place, Survey};
use crate::review::findings::suspect::Draft;
use crate::review::model::review::{Class, Kind};

/// Best moves asked for, to see whether a good one saves what hangs.
const GOOD: usize = 6;

/// This part of the nodes goes to a first look at what a pass would be worth.
const GLANCE: u64 = 8;

/// A piece that hung before the resource is given up only if a good move saved it. Where none did, the
/// finding is no sacrifice.
pub(crate) fn settle(
    survey: &Survey<'_>,
    draft: &mut Draft,
    place: &Place,
    asker: &mut Asker<'_>,
) -> Result<(), JudgeError> {
    let Some(mv) = draft.resource.clone() else {
        return Ok(());
    };
    let pos = place.line.position();
    let rests_on_good_moves = sacrifice::offer(pos, &mv).is_some()
        && sacrifice::offer_given(pos, &mv, |_| false).is_none();
    if !rests_on_good_moves {
        return Ok(());
    }
    let good = good_moves(survey, &place.line, asker)?;
    let given =
        sacrifice::offer_given(pos, &mv, |m| good.contains(m)).is_some_and(|o| o.is_sacrifice());
    draft.good = Some(good);
    if draft.kind == Kind::MissedCounterSacrifice && !given {
        draft.kind = draft.plain;
    }
    Ok(())
}

/// A side that stands worse than this is lost: the bound of the verdict (common practice, no source).
const LOST: f64 = 0.22;

/// The moves that would have kept the game: within delta of the best, or at least not lost. Delta alone will
/// not do: where a sacrifice is the one good move, nothing is within delta of it, and A. Lilienthal's queen
/// (against J. R. Capablanca, Hastings 1934/35) would be no sacrifice.
fn good_moves(
    survey: &Survey<'_>,
    line: &Line,
    asker: &mut Asker<'_>,
) -> Result<Vec<Move>, JudgeError> {
    let answer = asker.ask_one(line, GOOD, asker.nodes)?;
    let near = answer.into_iter().flat_map(|a| {
        let best = a.expected;
        let delta = survey.settings.delta;
        a.moves
            .into_iter()
            .filter(move |m| best.over(m.expected) < delta || m.expected.value() > LOST)
    });
    Ok(near.map(|m| m.mv).collect())
}

/// Whether the side that moves after a quiet resource would rather pass ('every move harms', zugzwang): true
/// for the player, false for the opponent, `None` where it would not, or nobody can pass.
pub(crate) fn every_move_harms(
    survey: &Survey<'_>,
    draft: &Draft,
    place: &Place,
    asker: &mut Asker<'_>,
) -> Result<Option<bool>, JudgeError> {
    let quiet = draft
        .resource
        .as_ref()
        .filter(|mv| !motif::is_forcing(place.line.position(), mv));
    let Some(after) = quiet
        .filter(|_| draft.class == Class::Counted)
        .and_then(|mv| place.line.child(mv).ok())
    else {
        return Ok(None);
    };
    let Ok(passed) = after.position().clone().swap_turn() else {
        return Ok(None);
    };
    let passed = Line::new(passed);
    // Passing is seldom better, and then a small search says so.
    for nodes in [(asker.nodes / GLANCE).max(1), asker.nodes] {
        let moved = asker.ask_one(&after, 1, asker.nodes)?;
        let passed = asker.ask_one(&passed, 1, nodes)?;
        let (Some(best), Some(passed)) = (moved, passed) else {
            return Ok(None);
        };
        let harms = motif::every_move_harms(
            best.expected.value(),
            passed.expected.flip().value(),
            survey.settings.delta,
        );
        if !harms {
            return Ok(None);
        }
    }
    Ok(Some(after.turn() == after.player()))
}
