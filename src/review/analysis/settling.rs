//! When a line has come to rest.

use shakmaty::{Chess, Move, Position};

use crate::board::{Line, exchange};
use crate::judge::{JudgeError, Question};
use crate::review::analysis::judge_client::{JudgeClient, for_player};
use crate::review::model::thresholds::{BOARD_GLANCE_NODES, NEEDED_MAX, QUIET_PLIES};
use crate::score::PlayerScore;

/// True where nothing is hanging in the air: no check, no capture that wins something, no pawn of
/// either side about to promote.
pub(crate) fn is_settled(line: &Line) -> bool {
    let pos = line.position();
    !pos.is_check()
        && exchange::best_capture(pos).is_none()
        && !promotes(pos)
        && !pos.clone().swap_turn().is_ok_and(|p| promotes(&p))
}

fn promotes(pos: &Chess) -> bool {
    pos.legal_moves().iter().any(|mv| mv.promotion().is_some())
}

/// True where the position is settled and stays so for the next moves: nothing comes, it was only
/// judged wrongly.
pub(crate) fn stays_quiet(from: &Line, moves: &[Move]) -> bool {
    let mut line = from.clone();
    let mut quiet = is_settled(&line);
    for mv in moves.iter().take(QUIET_PLIES) {
        quiet = quiet && line.push(mv).is_ok() && is_settled(&line);
    }
    quiet
}

/// Half-moves of a line until its position is settled: the game is over, or there is no check, no
/// winning capture, no promotion, and `agrees` says that a glance shows what it should; the whole line where
/// nothing settles.
pub(crate) fn until_settled(
    from: &Line,
    moves: &[Move],
    agrees: &dyn Fn(PlayerScore) -> bool,
    client: &mut JudgeClient<'_>,
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
        nodes: BOARD_GLANCE_NODES,
    };
    let glances: Vec<Question> = reached.iter().map(glance).collect();
    let answers = client.ask(&glances)?;
    let settled = reached.iter().zip(&answers).position(|(line, answer)| {
        line.position().is_game_over() || (agrees(for_player(line, answer)) && is_settled(line))
    });
    Ok(settled.map_or(reached.len(), |i| i + 1))
}
