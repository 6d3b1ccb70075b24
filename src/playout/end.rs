//! How a game that was played out has ended.

use shakmaty::Color;

use super::Goal;
use crate::board::Rule;

/// Why a game is over. Articles are those of the FIDE Laws in force from 1 January 2023.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// By the position: checkmate (5.1.1), stalemate (5.2.1), a dead position (5.2.2), the fifth
    /// repetition (9.6.1) or 75 moves (9.6.2).
    Rule(Rule),
    /// The player claimed a draw: third repetition (9.2) or 50 moves (9.3).
    Claim(Rule),
    /// By agreement (5.2.3).
    Agreed,
    /// This side has resigned (5.1.2).
    Resigned(Color),
    /// The time of this side was over (6.9).
    Flag(Color),
    /// The time of the player was over, but his opponent cannot checkmate him by any series of legal
    /// moves: drawn (6.9).
    FlagDrawn,
    /// The player was to hold out for so many moves, and has.
    HeldOut,
}

/// What the game was worth to the player.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize, schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    Won,
    Drawn,
    Lost,
    /// Still playing after the moves he was to hold out for.
    Held,
}

impl End {
    /// The outcome for `player`; `turn` is the side to move at the end.
    #[must_use]
    pub fn outcome(self, player: Color, turn: Color) -> Outcome {
        let winner = match self {
            Self::Rule(rule) => rule.winner(turn),
            Self::Resigned(loser) | Self::Flag(loser) => Some(loser.other()),
            Self::HeldOut => return Outcome::Held,
            Self::Claim(_) | Self::Agreed | Self::FlagDrawn => None,
        };
        match winner {
            Some(side) if side == player => Outcome::Won,
            Some(_) => Outcome::Lost,
            None => Outcome::Drawn,
        }
    }

    /// The end in a sentence's second half: 'The game is over: …'.
    #[must_use]
    pub fn words(self, player: Color) -> String {
        let who =
            |side: Color, his: &str, own: &str| if side == player { own } else { his }.to_owned();
        match self {
            Self::Rule(rule) => rule.words().to_owned(),
            Self::Claim(rule) => tr!("drawn by claim, {}", rule.words()),
            Self::Agreed => tr!("drawn by agreement").to_owned(),
            Self::Resigned(side) => who(side, tr!("he resigns"), tr!("you resigned")),
            Self::Flag(side) => who(side, tr!("his time is over"), tr!("your time is over")),
            Self::FlagDrawn => {
                tr!("your time is over, but he has nothing left to checkmate with: drawn")
                    .to_owned()
            }
            Self::HeldOut => tr!("you held out").to_owned(),
        }
    }
}

impl Outcome {
    /// True where the player has reached what he was to reach.
    #[must_use]
    pub fn reached(self, goal: Goal) -> bool {
        match goal {
            Goal::Win => self == Self::Won,
            Goal::Hold { .. } => self != Self::Lost,
        }
    }

    /// The outcome in a word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Won => tr!("won"),
            Self::Drawn => tr!("drawn"),
            Self::Lost => tr!("lost"),
            Self::Held => tr!("held"),
        }
    }
}
