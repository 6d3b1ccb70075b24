//! The course of a finished game: its moves with the expected scores around them, and who is asked about it.

use super::Game;
use crate::attempt::Attempt;
use crate::board::Line;
use crate::judge::{Answer, Judge, JudgeError, Question};
use crate::review::Settings;

/// One move of the game with the expected score around it. All scores are the player's, 0 to 1.
#[derive(Debug, Clone, PartialEq, serde::Serialize, schemars::JsonSchema)]
pub struct Move {
    /// Number of the move in the game, as on a score sheet.
    pub number: usize,
    pub white: bool,
    pub san: String,
    /// True where the player made it.
    pub own: bool,
    /// Before the move, with the best one.
    pub before: f64,
    /// After it.
    pub after: f64,
    /// Playing time it took, in milliseconds.
    pub took_ms: u64,
    /// The player's time left after it, in milliseconds.
    pub left_ms: Option<u64>,
    /// True where he wrote candidates or lines before it.
    pub written: bool,
}

impl Move {
    /// What a move of the player's gave away; 0 where it gained by the engine's next sight.
    #[must_use]
    pub fn drop(&self) -> f64 {
        (self.before - self.after).max(0.0)
    }

    /// '31. Kc2' or '31... Kc2'.
    #[must_use]
    pub fn numbered(&self) -> String {
        let dots = if self.white { "." } else { "..." };
        format!("{}{dots} {}", self.number, self.san)
    }
}

/// Everything the account asks and keeps while it is made.
pub(super) struct Survey<'a> {
    pub(super) game: &'a Game,
    /// The positions of the game, the root first.
    pub(super) lines: Vec<Line>,
    pub(super) answers: Vec<Answer>,
    pub(super) moves: Vec<Move>,
    pub(super) judge: &'a dyn Judge,
    pub(super) settings: &'a Settings,
    /// The sitting of a name, where the player wrote.
    pub(super) written: &'a dyn Fn(&str) -> Option<Attempt>,
}

impl Survey<'_> {
    /// The player's expected score in the position after `ply` moves.
    pub(super) fn worth(&self, ply: usize) -> f64 {
        let (Some(line), Some(answer)) = (self.lines.get(ply), self.answers.get(ply)) else {
            return 0.5;
        };
        answer.worth_to(self.game.side(), line).value()
    }

    /// The player's expected score once the side to move in `line` has played.
    pub(super) fn ask(&self, line: &Line, nodes: u64) -> Result<(f64, Answer), JudgeError> {
        let question = Question {
            line: line.clone(),
            lines: 1,
            nodes,
        };
        let answer = self.judge.answer_one(question)?;
        Ok((answer.worth_to(self.game.side(), line).value(), answer))
    }
}
