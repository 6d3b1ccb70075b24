//! What the Laws say about a position without asking an engine.

use shakmaty::Color;

/// A result, or a claim to one, that follows from the FIDE Laws of Chess alone.
///
/// Article numbers are those of the Laws in force from 1 January 2023.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Hash,
    serde::Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Rule {
    /// Article 5.1.1: the king of the side to move is attacked and no legal move exists.
    Checkmate,
    /// Article 5.2.1: no legal move, and the king is not attacked.
    Stalemate,
    /// Article 5.2.2: neither side can mate by any series of legal moves. Only recognised by
    /// material; blocked positions that are just as dead are missed.
    DeadPosition,
    /// Article 9.6.1: the same position for the fifth time.
    Fivefold,
    /// Article 9.6.2: 75 moves of each side without a pawn move or capture.
    SeventyFiveMoves,
    /// Article 9.2: the same position for the third time; drawn if the side to move claims it.
    Threefold,
    /// Article 9.3: 50 moves of each side without a pawn move or capture; drawn if claimed.
    FiftyMoves,
}

impl Rule {
    /// True where the game is not over by itself but the side to move may have it declared drawn.
    #[must_use]
    pub fn is_claim(self) -> bool {
        matches!(self, Self::Threefold | Self::FiftyMoves)
    }

    /// The side that has won, given whose turn it is; `None` for every kind of draw.
    #[must_use]
    pub fn winner(self, turn: Color) -> Option<Color> {
        (self == Self::Checkmate).then_some(turn.other())
    }

    /// The rule in the words a player would use, to follow 'it is' or to stand alone.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Checkmate => tr!("checkmate"),
            Self::Stalemate => tr!("stalemate"),
            Self::DeadPosition => tr!("a dead position"),
            Self::Fivefold => tr!("the same position for the fifth time"),
            Self::SeventyFiveMoves => tr!("75 moves without a capture or a pawn move"),
            Self::Threefold => tr!("the same position for the third time"),
            Self::FiftyMoves => tr!("50 moves without a capture or a pawn move"),
        }
    }
}
