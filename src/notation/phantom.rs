//! Why a well-formed move is not legal where it was written.

use shakmaty::{Role, Square};

/// A well-formed move that is not legal in its position, with every reason, the telling one first.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Phantom {
    /// In the order of the review: the first is the one to tell.
    pub reasons: Vec<Reason>,
    /// The ply at which the writer's picture of the board stopped being renewed: the latest `k` such
    /// that putting one piece that moved or was captured at ply `k` back on its former square, with
    /// all else as it is now, makes the move legal (retained image).
    pub retained: Option<usize>,
}

/// One reason. Plies count from the root, the first written half-move being 1.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case", tag = "why")]
pub enum Reason {
    /// The side to move never had such a piece to move in this line.
    NoSuchPiece {
        #[serde(serialize_with = "role_word")]
        role: Role,
    },
    /// The piece that could have gone there was captured.
    Captured {
        #[serde(serialize_with = "role_word")]
        role: Role,
        #[serde(serialize_with = "square_word")]
        on: Square,
        ply: usize,
    },
    /// It had already left the square from which the move would be possible.
    MovedAway {
        #[serde(serialize_with = "role_word")]
        role: Role,
        #[serde(serialize_with = "square_word")]
        from: Square,
        ply: usize,
    },
}

fn role_word<S: serde::Serializer>(role: &Role, s: S) -> Result<S::Ok, S::Error> {
    s.collect_str(&format_args!("{role:?}"))
}

fn square_word<S: serde::Serializer>(square: &Square, s: S) -> Result<S::Ok, S::Error> {
    s.collect_str(square)
}
