//! What the engine does at its turn.

use crate::app::AppError;
use crate::app::runtime::judge_provider::JudgeProvider;
use crate::playout::{self, Game};

/// Its move, its answer to a draw offer, or that it gives up.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct EngineDecision {
    /// Its answer to a draw offer.
    pub draw: Option<bool>,
    pub resigns: bool,
    pub reply: Option<playout::Reply>,
}

/// What the engine does in a game: its answer to a draw offer, its move. Changes nothing, so that it can
/// run beside the screens.
///
/// # Errors
/// The engine failed, twice.
pub(crate) fn engine_decision(
    judges: &JudgeProvider,
    game: &Game,
) -> Result<EngineDecision, AppError> {
    let judge = judges.judge()?;
    let mut says = EngineDecision::default();
    if game.offered() {
        says.draw = Some(playout::accepts_draw(game, &*judge)?);
    }
    if says.draw != Some(true) && game.line().turn() != game.side() {
        says.resigns = playout::resigns(game);
        if !says.resigns {
            let opened = game.opened();
            says.reply = playout::reply(game.line(), opened.level, opened.seed, &*judge)?;
        }
    }
    Ok(says)
}
