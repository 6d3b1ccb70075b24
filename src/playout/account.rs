//! The account of a game that was played out: where the expected score went, and at which decisions.

use shakmaty::Position;

use super::course::{Move, Survey};
use super::moments::{Drift, Moment, Simpler, drifts, moments, simpler};
use super::{End, Game, Outcome};
use crate::attempt::Attempt;
use crate::board::{Line, Rule, line};
use crate::judge::{Answer, Judge, JudgeError, Question};
use crate::review::Settings;

/// Everything a finished game has to tell.
#[derive(Debug, Clone, PartialEq, serde::Serialize, schemars::JsonSchema)]
pub struct Account {
    pub judge: String,
    pub nodes: u64,
    /// The position that was played out (FEN).
    pub root: String,
    pub outcome: Outcome,
    /// How it ended, in words.
    pub end: String,
    /// True where the player reached what he was to reach.
    pub reached: bool,
    /// The advantage that a stalemate gave away; `null` where the game ended otherwise, or he had none.
    pub stalemate_from: Option<StalemateFrom>,
    /// Expected score of the player at the root.
    pub start: f64,
    pub moves: Vec<Move>,
    /// Single decisions that cost at least delta, confirmed with more nodes, in the order of play.
    pub moments: Vec<Moment>,
    /// Stretches in which no single move cost delta, and together they cost much.
    pub drifts: Vec<Drift>,
    /// Simpler ways that were there; unscored.
    pub simpler: Vec<Simpler>,
    /// The player's plans in his own words, each with the number of the move it was written before and the
    /// moves that followed it.
    pub plans: Vec<Plan>,
}

/// The last move of the player's before which he still stood better.
#[derive(Debug, Clone, PartialEq, serde::Serialize, schemars::JsonSchema)]
pub struct StalemateFrom {
    /// The move with its number.
    pub played: String,
    /// Expected score of the player before it.
    pub before: f64,
}

impl Account {
    /// What the last position was worth to the player where the result is worth less: he resigned, agreed to
    /// a draw or overstepped the time, and no move of his gave that away.
    #[must_use]
    pub fn left_behind(&self) -> Option<f64> {
        let result = match self.outcome {
            Outcome::Lost => 0.0,
            Outcome::Drawn => 0.5,
            Outcome::Won | Outcome::Held => return None,
        };
        let last = self.moves.last().map_or(self.start, |m| m.after);
        (last - result >= LEFT_BEHIND).then_some(last)
    }
}

/// What the player gave away by a stalemate; `None` where it was none, or cost him nothing.
fn stalemate_from(game: &Game, moves: &[Move]) -> Option<StalemateFrom> {
    if game.end() != Some(End::Rule(Rule::Stalemate)) {
        return None;
    }
    let better = |m: &&Move| m.own && m.before - 0.5 >= LEFT_BEHIND;
    let last = moves.iter().rev().find(better)?;
    Some(StalemateFrom {
        played: last.numbered(),
        before: last.before,
    })
}

/// Less between the last position and the result is not told.
const LEFT_BEHIND: f64 = 0.15;

/// A plan in the player's own words, and what was then played, by both sides. No engine judges words.
#[derive(Debug, Clone, PartialEq, serde::Serialize, schemars::JsonSchema)]
pub struct Plan {
    pub before_move: usize,
    pub text: String,
    pub played: Vec<String>,
}

/// Half-moves that are shown against a plan; a new plan ends it sooner.
const PLAN_PLIES: usize = 16;

/// Goes through a finished game, or as far as it has come. `written` gives the sittings the player
/// wrote in; `progress` is told how many of how many steps are done.
///
/// # Errors
/// The engine behind the judge failed.
pub fn account(
    game: &Game,
    judge: &dyn Judge,
    settings: &Settings,
    written: &dyn Fn(&str) -> Option<Attempt>,
    progress: &mut dyn FnMut(usize, usize),
) -> Result<Account, JudgeError> {
    let lines = lines(game);
    let answers = ask_all(&lines, judge, settings.nodes, progress)?;
    let mut survey = Survey {
        game,
        lines,
        answers,
        moves: Vec::new(),
        judge,
        settings,
        written,
    };
    survey.moves = moves(&survey);
    let moments = moments(&survey, progress)?;
    let line = game.line();
    Ok(Account {
        judge: judge.name(),
        nodes: settings.nodes,
        root: line::fen(line.root()),
        outcome: game.outcome().unwrap_or(Outcome::Drawn),
        end: game
            .end()
            .map_or(tr!("it is not over").to_owned(), |e| e.words(game.side())),
        reached: game
            .outcome()
            .is_some_and(|o| o.reached(game.opened().goal)),
        stalemate_from: stalemate_from(game, &survey.moves),
        start: survey.worth(0),
        drifts: drifts(&survey.moves, settings.delta.value()),
        simpler: simpler(&survey)?,
        plans: plans(&survey),
        moves: survey.moves,
        moments,
    })
}

/// The player's expected score at the start of a game.
///
/// # Errors
/// The engine behind the judge failed.
pub fn start(game: &Game, judge: &dyn Judge, nodes: u64) -> Result<f64, JudgeError> {
    let mut line = game.line().clone();
    while line.pop().is_some() {}
    let question = Question {
        line: line.clone(),
        lines: 1,
        nodes,
    };
    let answer = judge.answer_one(question)?;
    Ok(answer.worth_to(game.side(), &line).value())
}

/// The positions of the game from the root on.
fn lines(game: &Game) -> Vec<Line> {
    let mut at = game.line().clone();
    let mut lines = vec![at.clone()];
    while at.pop().is_some() {
        lines.push(at.clone());
    }
    lines.reverse();
    lines
}

/// Positions asked in one go: enough for every core, few enough for the progress to move.
const AT_ONCE: usize = 16;

fn ask_all(
    lines: &[Line],
    judge: &dyn Judge,
    nodes: u64,
    progress: &mut dyn FnMut(usize, usize),
) -> Result<Vec<Answer>, JudgeError> {
    let mut answers = Vec::with_capacity(lines.len());
    for some in lines.chunks(AT_ONCE) {
        progress(answers.len(), lines.len());
        let questions: Vec<Question> = some
            .iter()
            .map(|line| Question {
                line: line.clone(),
                lines: 1,
                nodes,
            })
            .collect();
        answers.append(&mut judge.answer(&questions)?);
    }
    progress(answers.len(), lines.len());
    Ok(answers)
}

fn moves(survey: &Survey<'_>) -> Vec<Move> {
    let sans = survey.game.line().sans();
    let of = |(ply, (played, san)): (usize, (&super::PlayedMove, String))| {
        let number = survey
            .lines
            .get(ply)
            .map_or(1, |l| l.position().fullmoves().get() as usize);
        let own = played.by == survey.game.side();
        let (here, after) = (survey.worth(ply), survey.worth(ply + 1));
        Move {
            number,
            white: played.by.is_white(),
            san,
            own,
            // What a move reaches was there before it, even where one search did not see it.
            before: if own { here.max(after) } else { here },
            after,
            took_ms: played.took_ms,
            left_ms: played.left_ms,
            written: played.sitting.is_some(),
        }
    };
    survey
        .game
        .moves()
        .iter()
        .zip(sans)
        .enumerate()
        .map(of)
        .collect()
}

/// The moves as on a score sheet: numbered where White moves, and where the sheet begins.
#[must_use]
pub fn score_sheet(moves: &[Move]) -> Vec<String> {
    let of = |(n, m): (usize, &Move)| {
        if m.white || n == 0 {
            m.numbered()
        } else {
            m.san.clone()
        }
    };
    moves.iter().enumerate().map(of).collect()
}

fn plans(survey: &Survey<'_>) -> Vec<Plan> {
    let plans = survey.game.plans();
    let next = |n: usize| plans.get(n + 1).map_or(usize::MAX, |(made, _)| *made);
    plans
        .iter()
        .enumerate()
        .map(|(n, (made, text))| {
            let until = next(n).min(made + PLAN_PLIES).min(survey.moves.len());
            Plan {
                before_move: survey
                    .lines
                    .get(*made)
                    .map_or(1, |l| l.position().fullmoves().get() as usize),
                text: text.clone(),
                played: score_sheet(survey.moves.get(*made..until).unwrap_or(&[])),
            }
        })
        .collect()
}
