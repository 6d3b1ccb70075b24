//! What makes two questions the same, and how the unanswered ones among many are asked.

use ruci::gui;
use shakmaty::fen::Fen;
use shakmaty::uci::UciMove;
use shakmaty::{CastlingMode, EnPassantMode};
use std::num::NonZeroU32;

use super::{Answer, Judge, JudgeError, Question, rules};
use crate::board::Line;

/// The position as an engine is told: the one after the last capture or pawn move, and the moves since.
/// That is all repetition and move counting can depend on, and everything before is the same to it. The
/// number of the move, which matters to nothing, is always 1, so that joined lines ask the same.
pub(super) fn position(line: &Line) -> gui::Position<'static> {
    let (from, moves) = line.since_irreversible();
    let mut fen = Fen::from_position(from.clone(), EnPassantMode::Legal);
    fen.0.fullmoves = NonZeroU32::MIN;
    let moves: Vec<UciMove> = moves
        .iter()
        .map(|m| m.to_uci(CastlingMode::Standard))
        .collect();
    gui::Position::Fen {
        fen: std::borrow::Cow::Owned(fen),
        moves: moves.into(),
    }
}

/// Equal for questions that must have the same answer.
pub(super) fn signature(question: &Question) -> String {
    format!(
        "{} lines {} nodes {}",
        position(&question.line),
        rules::lines(question),
        question.nodes
    )
}

/// The answers in the order of the questions: what is `known`, and for the rest what `judge` says, each
/// new answer shown to `fresh` first.
pub(super) fn rest(
    questions: &[Question],
    known: Vec<Option<Answer>>,
    judge: &dyn Judge,
    mut fresh: impl FnMut(&Question, &Answer),
) -> Result<Vec<Answer>, JudgeError> {
    let pairs = questions.iter().zip(&known);
    let unknown: Vec<Question> = pairs
        .filter(|(_, k)| k.is_none())
        .map(|(q, _)| q.clone())
        .collect();
    let mut asked = Vec::new();
    if !unknown.is_empty() {
        asked = judge.answer(&unknown)?;
    }
    for (question, answer) in unknown.iter().zip(&asked) {
        fresh(question, answer);
    }
    let mut asked = asked.into_iter();
    let all = known.into_iter().map(|known| {
        let answer = known.or_else(|| asked.next());
        answer.ok_or(JudgeError::Unanswered)
    });
    all.collect()
}
