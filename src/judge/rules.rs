//! What the Laws decide is never asked of an engine.

use super::{Answer, Basis, MoverScore, Question};
use crate::board::{Line, Rule};

/// The answer where the game is over by rule.
pub(super) fn result(line: &Line) -> Option<Answer> {
    let rule = line.rule().filter(|rule| !rule.is_claim())?;
    Some(Answer {
        // The side to move never has won: mate is given to it.
        expected: if rule == Rule::Checkmate {
            MoverScore::LOST
        } else {
            MoverScore::LEVEL
        },
        basis: Basis::Rule(rule),
        moves: Vec::new(),
    })
}

/// A search's answer, raised to a draw where the side to move may claim one (articles 9.2 and 9.3):
/// it plays on only where that is worth more.
pub(super) fn with_claim(line: &Line, answer: Answer) -> Answer {
    match line.rule() {
        Some(rule) if rule.is_claim() && answer.expected <= MoverScore::LEVEL => Answer {
            expected: MoverScore::LEVEL,
            basis: Basis::Rule(rule),
            ..answer
        },
        _ => answer,
    }
}

/// How many best moves can be given at all.
pub(super) fn lines(question: &Question) -> usize {
    use shakmaty::Position;
    let legal = question.line.position().legal_moves().len();
    question.lines.clamp(1, legal.max(1))
}
