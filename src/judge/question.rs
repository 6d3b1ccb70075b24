//! What makes two questions the same.

use ruci::gui;
use shakmaty::fen::Fen;
use shakmaty::uci::UciMove;
use shakmaty::{CastlingMode, EnPassantMode};
use std::num::NonZeroU32;

use super::{Question, rules};
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
