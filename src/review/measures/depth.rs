//! How deep the calculation had to go, went, and held; all in half-moves.

use shakmaty::{Move, Position};

use crate::board::Line;
use crate::judge::{JudgeError, Question};
use crate::review::analysis::judge_client::{Asker, for_player};
use crate::review::analysis::proof_line;
use crate::review::analysis::proof_line::main_child;
use crate::review::analysis::tree_analysis::Survey;
use crate::review::findings::suspect::Draft;
use crate::review::model::review::{Class, Depth};
use crate::tree::NodeId;

/// A search so small that it sees little more than what stands on the board.
const GLANCE_NODES: u64 = 200;
/// No calculation has to be longer than this.
const NEEDED_MAX: usize = 20;

/// The four figures. They and the findings speak of one thing: no calculation was deep enough that ends before
/// the first counted finding, so `sound` stops before it and `needed` goes at least as far.
pub(crate) fn depth(
    survey: &Survey<'_>,
    drafts: &[Draft],
    asker: &mut Asker<'_>,
) -> Result<Depth, JudgeError> {
    let main = main_line(survey);
    let places = survey.places.keys();
    let longest = places.map(|id| survey.tree.ply(*id)).max().unwrap_or(0);
    let first = first_finding(survey, drafts, &main);
    Ok(Depth {
        needed: needed(survey, first.unwrap_or(0), asker)?,
        reached: main.len(),
        longest,
        sound: first.map_or(main.len(), |ply| main.len().min(ply - 1)),
    })
}

/// The half-move of the first counted finding on the choice's main line.
fn first_finding(survey: &Survey<'_>, drafts: &[Draft], main: &[NodeId]) -> Option<usize> {
    let counted = drafts.iter().filter(|d| d.class == Class::Counted);
    let on_main = counted.filter(|d| main.contains(&d.at));
    on_main.map(|d| d.ply(survey)).min()
}

/// Half-moves until the position under the choice is settled for good: not before `first`. A position on the
/// way can look like the truth by chance, and the reason for it still be to come.
fn needed(survey: &Survey<'_>, first: usize, asker: &mut Asker<'_>) -> Result<usize, JudgeError> {
    let Some(worth) = survey.choice_worth() else {
        return Ok(0);
    };
    let near = survey.settings.delta / 2.0;
    let agrees = |glance: f64| (glance - worth).abs() <= near;
    let (mut from, line) = (survey.tree.root().clone(), truth_line(survey));
    let (sure, rest) = line.split_at(line.len().min(first.saturating_sub(1)));
    if sure.iter().any(|mv| from.push(mv).is_err()) {
        return Ok(first);
    }
    let more = until_settled(&from, rest, &agrees, asker)?;
    Ok(first.max(sure.len() + more))
}

/// Half-moves of a line until its position is settled: the game is over, or there is no check, no
/// winning capture, no promotion, and `agrees` says that a glance (the player's expected score) shows
/// what it should; the whole line where nothing settles.
pub(crate) fn until_settled(
    from: &Line,
    moves: &[Move],
    agrees: &dyn Fn(f64) -> bool,
    asker: &mut Asker<'_>,
) -> Result<usize, JudgeError> {
    let mut line = from.clone();
    let mut reached = Vec::new();
    for mv in moves.iter().take(NEEDED_MAX) {
        if line.push(mv).is_err() {
            break;
        }
        reached.push(line.clone());
    }
    let glance = |line: &Line| Question {
        line: line.clone(),
        lines: 1,
        nodes: GLANCE_NODES,
    };
    let glances: Vec<Question> = reached.iter().map(glance).collect();
    let answers = asker.ask(&glances)?;
    let settled = reached.iter().zip(&answers).position(|(line, answer)| {
        is_over(line) || (agrees(for_player(line, answer)) && proof_line::is_settled(line))
    });
    Ok(settled.map_or(reached.len(), |i| i + 1))
}

fn is_over(line: &Line) -> bool {
    line.position().is_game_over()
}

/// The choice and what should follow: the best move at every surveyed place, then what the search
/// expects.
fn truth_line(survey: &Survey<'_>) -> Vec<Move> {
    let Some(chosen) = survey.chosen() else {
        return Vec::new();
    };
    let mut moves = vec![chosen.mv.clone()];
    let mut rest: Vec<Move> = chosen.pv.iter().skip(1).cloned().collect();
    let mut at = chosen.node;
    while let Some(place) = at.and_then(|id| survey.place(id)) {
        let Some(best) = place.best() else {
            rest.clone_from(&place.pv);
            break;
        };
        moves.push(best.mv.clone());
        rest = best.pv.iter().skip(1).cloned().collect();
        at = best.node;
    }
    moves.extend(rest);
    moves
}

/// The nodes of the choice's main line that can be played: the written moves that matter most, from the choice
/// on.
fn main_line(survey: &Survey<'_>) -> Vec<NodeId> {
    let line = std::iter::successors(survey.choice, |id| main_child(survey, *id));
    line.take_while(|id| survey.place(*id).is_some()).collect()
}
