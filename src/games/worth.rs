//! What the judge said of a game, in short, so that what needs scores alone starts no engine.

use serde::{Deserialize, Serialize};

use super::survey::Surveyed;
use crate::store::Record;

/// The scores of one game. It lies under the game's identifier, and can be computed again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct GameScores {
    /// Who judged, and with how many nodes for each position.
    pub judge: String,
    pub nodes: u64,
    /// The player's expected score before each half-move and after the last one, in thousandths.
    pub thousandths: Vec<u16>,
}

impl Record for GameScores {
    const TABLE: &'static str = "game-worth";
    const VERSION: u32 = 1;
    const DISPOSABLE: bool = true;
}

impl GameScores {
    /// The scores of a judged game.
    #[must_use]
    pub fn of(surveyed: &Surveyed, judge: &str, nodes: u64) -> Self {
        let last = surveyed.plies.last().map(|p| p.after);
        let scores = surveyed.plies.iter().map(|p| p.before).chain(last);
        Self {
            judge: judge.to_owned(),
            nodes,
            thousandths: scores
                .map(|e| (e.clamp(0.0, 1.0) * 1000.0) as u16)
                .collect(),
        }
    }

    /// The player's expected score before a half-move (0 is the first), 0 to 1. A game that has grown since
    /// then is known as far as it went.
    #[must_use]
    pub fn before(&self, ply: usize) -> Option<f64> {
        let score = self.thousandths.get(ply)?;
        Some(f64::from(*score) / 1000.0)
    }
}
