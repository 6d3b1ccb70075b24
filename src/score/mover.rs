//! The expected score as a judge tells it.

use std::fmt;

use shakmaty::Color;

use super::{PlayerScore, ScoreDiff, within_bounds, write_score};

/// Expected score of the side to move in its own position: 0 (lost) to 1 (won), a draw being 0.5.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    PartialOrd,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(transparent)]
pub struct MoverScore(f64);

impl MoverScore {
    pub const LOST: Self = Self(0.0);
    pub const LEVEL: Self = Self(0.5);
    pub const WON: Self = Self(1.0);

    /// An expected score; what is outside 0 to 1, or not a number, is brought to the nearest bound
    /// (not a number to 0.5).
    #[must_use]
    pub const fn new(value: f64) -> Self {
        Self(within_bounds(value))
    }

    /// From a centipawn score: E = 1 / (1 + 10^(-cp/400)), the logistic form of the Elo curve (A. Elo,
    /// The Rating of Chessplayers, 1978) with the pawn scale fitted by S. Fischer and P. Kannan
    /// (2007, from memory).
    #[must_use]
    pub fn from_centipawns(cp: i32) -> Self {
        Self::new(1.0 / (1.0 + 10f64.powf(-f64::from(cp) / 400.0)))
    }

    /// From an engine's win, draw and loss in permille (UCI_ShowWDL): E = (w + d/2) / 1000. `None`
    /// where the three do not add up to 1000 (within rounding).
    #[must_use]
    pub fn from_wdl(win: u32, draw: u32, loss: u32) -> Option<Self> {
        let sum = win.checked_add(draw)?.checked_add(loss)?;
        (995..=1005)
            .contains(&sum)
            .then(|| Self::new((f64::from(win) + f64::from(draw) / 2.0) / f64::from(sum)))
    }

    /// The same position from the other side.
    #[must_use]
    pub fn flip(self) -> Self {
        Self(1.0 - self.0)
    }

    /// The same for `player`, where `mover` is the side to move.
    #[must_use]
    pub fn for_player(self, mover: Color, player: Color) -> PlayerScore {
        PlayerScore::new(if mover == player { self } else { self.flip() }.0)
    }

    /// The number, 0 to 1.
    #[must_use]
    pub fn value(self) -> f64 {
        self.0
    }

    /// How much more this is than `other`, of the same side; negative where it is less.
    #[must_use]
    pub fn over(self, other: Self) -> ScoreDiff {
        ScoreDiff::new(self.0 - other.0)
    }
}

impl fmt::Display for MoverScore {
    /// Two decimals: `.73`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_score(self.0, f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_score_belongs_to_one_side() {
        let score = MoverScore::new(0.75);
        let (white, black) = (Color::White, Color::Black);
        assert_eq!(score.for_player(black, black), PlayerScore::new(0.75));
        assert_eq!(score.for_player(white, black), PlayerScore::new(0.25));
    }

    #[test]
    fn a_score_stays_in_its_bounds() {
        assert_eq!(MoverScore::new(1.5), MoverScore::WON);
        assert_eq!(MoverScore::new(-0.5), MoverScore::LOST);
        assert_eq!(MoverScore::new(f64::NAN), MoverScore::LEVEL);
    }
}
