//! The opponent: among its good moves the one that sets the most problems.
//!
//! # Definition
//! The engine's best moves are judged with the nodes of its [`Level`], each judgement with an error of
//! at most the level's spread (the same game and seed, the same error). Those within the level's margin
//! of the best are *playable*. The *problem* a playable move sets is what its opponent loses on average
//! by trusting his first glance: the replies that look best in a search of [`GLANCE`] nodes are judged
//! with the nodes of the level, and the mean of what each gives away against the best reply is the
//! problem. The move with the greatest problem is played; of equal ones the better.
//!
//! The idea that a defender, or an attacker with several good moves, should choose by how hard the
//! reply is to find is that of E. Lasker (Lasker's Manual of Chess, 1925, from memory).
//!
//! # Known errors
//! Three replies stand for all; a glance of an engine is not a glance of a player.

use shakmaty::{Move, Position};

use super::{Game, Level};
use crate::board::{Line, line, random};
use crate::judge::{Judge, JudgeError, Question, Ranked};

/// Nodes of a first glance.
const GLANCE: u64 = 200;
/// Replies that are looked at.
const REPLIES: usize = 3;
/// Moves among which it chooses.
const CHOICES: usize = 4;
/// Problems that differ by less are equal: half the margin in which scores are noise.
const SAME: f64 = 0.015;
/// It resigns after so many of its moves in a row at [`HOPELESS`] or less ...
const PATIENCE: usize = 8;
const HOPELESS: f64 = 0.02;
/// ... but plays on to the mate with so few men on the board: the technique is what is practised then.
const FEW_MEN: usize = 6;
/// It takes a draw where its own expected score is no more than this.
const CONTENT: f64 = 0.5;

/// The engine's move.
#[derive(Debug, Clone, PartialEq)]
pub struct Reply {
    pub mv: Move,
    /// What it thinks the move is worth to it, 0 to 1.
    pub expected: f64,
    /// What the move's opponent gives away on average by trusting a glance, 0 to 1.
    pub problem: f64,
}

/// The engine's move in the position that `played` has reached. `None` where the game is over.
///
/// # Errors
/// The engine behind the judge failed.
pub fn reply(
    played: &Line,
    level: Level,
    seed: u64,
    judge: &dyn Judge,
) -> Result<Option<Reply>, JudgeError> {
    let question = Question {
        line: played.clone(),
        lines: CHOICES,
        nodes: level.nodes(),
    };
    let answer = judge.answer_one(question)?;
    let playable = playable(played, answer.moves, level, seed);
    if let [only] = playable.as_slice() {
        return Ok(Some(Reply {
            mv: only.mv.clone(),
            expected: only.expected.value(),
            problem: 0.0,
        }));
    }
    let mut best: Option<Reply> = None;
    for ranked in &playable {
        let problem = problem(played, &ranked.mv, level, judge)?;
        if best.as_ref().is_none_or(|b| problem > b.problem + SAME) {
            best = Some(Reply {
                mv: ranked.mv.clone(),
                expected: ranked.expected.value(),
                problem,
            });
        }
    }
    Ok(best)
}

/// The moves within the margin of the one that seems best, the best first.
fn playable(played: &Line, moves: Vec<Ranked>, level: Level, seed: u64) -> Vec<Ranked> {
    let mut seen: Vec<(Ranked, f64)> = moves
        .into_iter()
        .map(|m| {
            let seems = m.expected.value() + level.spread() * whim(played, &m.mv, seed);
            (m, seems)
        })
        .collect();
    seen.sort_by(|a, b| b.1.total_cmp(&a.1));
    let top = seen.first().map_or(0.0, |m| m.1);
    seen.retain(|m| m.1 >= top - level.margin());
    seen.into_iter().map(|m| m.0).collect()
}

/// The mean of what the replies that look best at a glance give away.
fn problem(played: &Line, mv: &Move, level: Level, judge: &dyn Judge) -> Result<f64, JudgeError> {
    let Ok(after) = played.child(mv) else {
        return Ok(0.0);
    };
    if after.position().is_game_over() {
        return Ok(0.0);
    }
    let question = |nodes| Question {
        line: after.clone(),
        lines: REPLIES,
        nodes,
    };
    let mut answers = judge
        .answer(&[question(GLANCE), question(level.nodes())])?
        .into_iter();
    let (Some(glance), Some(deep)) = (answers.next(), answers.next()) else {
        return Ok(0.0);
    };
    let best = deep.expected.value();
    let mut children = Vec::new();
    for reply in &glance.moves {
        if let Ok(child) = after.child(&reply.mv) {
            children.push(Question {
                line: child,
                lines: 1,
                nodes: level.nodes(),
            });
        }
    }
    let count = children.len().max(1) as f64;
    let given: f64 = judge
        .answer(&children)?
        .iter()
        .map(|a| (best - a.expected.flip().value()).max(0.0))
        .sum();
    Ok(given / count)
}

/// A number from -1 to 1 that looks random and is the same for the same position, move and seed.
fn whim(played: &Line, mv: &Move, seed: u64) -> f64 {
    let mut z = (played.key() as u64) ^ seed.rotate_left(17);
    for byte in line::uci(mv).bytes() {
        z = z.wrapping_mul(31).wrapping_add(u64::from(byte));
    }
    (random::scattered(z) >> 11) as f64 / (1u64 << 52) as f64 - 1.0
}

/// True where the engine gives the game up before its move.
#[must_use]
pub fn resigns(game: &Game) -> bool {
    let own = game.side().other();
    let lately: Vec<f64> = game
        .moves()
        .iter()
        .rev()
        .filter(|m| m.by == own)
        .take(PATIENCE)
        .filter_map(|m| m.expected)
        .collect();
    let men = game.line().position().board().occupied().count();
    men > FEW_MEN && lately.len() == PATIENCE && lately.iter().all(|e| *e <= HOPELESS)
}

/// Whether the engine agrees to a draw in the position that `played` has reached.
///
/// # Errors
/// The engine behind the judge failed.
pub fn accepts_draw(game: &Game, judge: &dyn Judge) -> Result<bool, JudgeError> {
    let question = Question {
        line: game.line().clone(),
        lines: 1,
        nodes: game.opened().level.nodes(),
    };
    let worth = judge
        .answer_one(question)?
        .worth_to(game.side().other(), game.line());
    Ok(worth.value() <= CONTENT)
}
