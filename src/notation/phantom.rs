//! Why a well-formed move is not legal where it was written.

use std::fmt;

use serde::Serializer;
use shakmaty::{File, Rank, Role, Square};

/// A well-formed move that is not legal in its position, with every reason, the telling one first.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Phantom {
    /// Never empty. In the order of [`Reason`]; within one kind the latest ply first.
    pub reasons: Vec<Reason>,
    /// The ply at which the writer's picture of the board stopped being renewed: the latest `k` such
    /// that putting one piece that moved or was captured at ply `k` back on its former square, with
    /// all else as it is now, makes the move legal (retained image; Krogius, 1976, from memory).
    ///
    /// A piece that stands on the former square now gives way, unless it is a king; a castling right
    /// that was lost at ply `k` returns with the king or rook that is put back.
    pub retained: Option<usize>,
}

/// A piece of the other side that attacks along a line or from a square.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Attacker {
    #[serde(serialize_with = "word")]
    pub role: Role,
    #[serde(serialize_with = "shown")]
    pub on: Square,
    /// The ply since which it has been so without a break; `None` where it was so at the root.
    pub since: Option<usize>,
    /// The square that was left at `since` and so opened the line.
    #[serde(serialize_with = "maybe_shown")]
    pub opened_from: Option<Square>,
}

/// One reason. Plies count from the root, the first written half-move being 1. The order of the
/// variants is the order of telling (review: 'why a phantom move is phantom').
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case", tag = "why")]
pub enum Reason {
    /// The side to move never had such a piece in this line.
    NoSuchPiece {
        #[serde(serialize_with = "word")]
        role: Role,
    },
    /// It has or had such a piece, but never on the file, rank or square that the text names.
    NoneOn {
        #[serde(serialize_with = "word")]
        role: Role,
        #[serde(serialize_with = "maybe_shown")]
        file: Option<File>,
        #[serde(serialize_with = "maybe_shown")]
        rank: Option<Rank>,
    },
    /// Two squares were given, and nothing stood on the first since the root.
    NothingOn {
        #[serde(serialize_with = "shown")]
        on: Square,
    },
    /// Two squares were given, and what stands on the first belongs to the other side.
    NotYours {
        #[serde(serialize_with = "word")]
        role: Role,
        #[serde(serialize_with = "shown")]
        on: Square,
    },
    /// The piece that could have gone there was captured on the square `on`.
    Captured {
        #[serde(serialize_with = "word")]
        role: Role,
        #[serde(serialize_with = "shown")]
        on: Square,
        ply: usize,
    },
    /// It had already left the square from which the move would be possible.
    MovedAway {
        #[serde(serialize_with = "word")]
        role: Role,
        #[serde(serialize_with = "shown")]
        from: Square,
        ply: usize,
    },
    /// The square, or the way there, is taken.
    Occupied {
        /// What stands there.
        #[serde(serialize_with = "word")]
        role: Role,
        #[serde(serialize_with = "shown")]
        on: Square,
        /// True for a piece of the side to move.
        yours: bool,
        /// The ply at which it came; `None` where it always stood there.
        since: Option<usize>,
    },
    /// A pawn takes sideways, and there is nothing to take.
    NothingToTake {
        #[serde(serialize_with = "shown")]
        on: Square,
        /// The ply at which what could have been taken went; `None` where nothing ever stood there.
        gone: Option<usize>,
    },
    /// The pawn on `pawn` could only be taken in passing at once (FIDE Laws, article 3.7.3.2).
    EnPassantOver {
        #[serde(serialize_with = "shown")]
        pawn: Square,
        /// The ply of its double step; `None` where that was before the root.
        ply: Option<usize>,
    },
    /// The right to castle was lost (article 3.8.2.1).
    CastlingLost {
        /// At this ply; `None` where there was none at the root.
        ply: Option<usize>,
    },
    /// The piece shields its king.
    Pinned {
        #[serde(serialize_with = "word")]
        role: Role,
        #[serde(serialize_with = "shown")]
        on: Square,
        by: Attacker,
    },
    /// The king is in check, and the move does nothing about it; nobody castles out of check either.
    InCheck { by: Attacker },
    /// The king would go to an attacked square.
    IntoCheck {
        #[serde(serialize_with = "shown")]
        to: Square,
        by: Attacker,
    },
    /// Castling would lead the king over an attacked square or onto one (article 3.8.2.2).
    CastlingThroughCheck {
        #[serde(serialize_with = "shown")]
        over: Square,
        by: Attacker,
    },
    /// Taking in passing takes both pawns off the line that shields the king.
    OpensCheck { by: Attacker },
    /// The piece is there but does not move like that.
    DoesNotReach {
        #[serde(serialize_with = "word")]
        role: Role,
        #[serde(serialize_with = "shown")]
        from: Square,
    },
    /// A promotion is written for a move that ends before the last rank.
    NoPromotionOn {
        #[serde(serialize_with = "shown")]
        on: Square,
    },
    /// A promotion is written, and what stands on the first square is no pawn.
    NotAPawn {
        #[serde(serialize_with = "word")]
        role: Role,
        #[serde(serialize_with = "shown")]
        on: Square,
    },
}

impl Reason {
    /// The ply it goes back to; `None` where it was so at the root or has no time.
    #[must_use]
    pub fn ply(&self) -> Option<usize> {
        match self {
            Self::Captured { ply, .. } | Self::MovedAway { ply, .. } => Some(*ply),
            Self::Occupied { since: ply, .. }
            | Self::NothingToTake { gone: ply, .. }
            | Self::EnPassantOver { ply, .. }
            | Self::CastlingLost { ply } => *ply,
            Self::Pinned { by, .. }
            | Self::InCheck { by }
            | Self::IntoCheck { by, .. }
            | Self::CastlingThroughCheck { by, .. }
            | Self::OpensCheck { by } => by.since,
            _ => None,
        }
    }

    /// Its place in the order of telling; smaller comes first.
    pub(super) fn order(&self) -> u8 {
        match self {
            Self::NoSuchPiece { .. }
            | Self::NoneOn { .. }
            | Self::NothingOn { .. }
            | Self::NotYours { .. } => 0,
            Self::Captured { .. } => 1,
            Self::MovedAway { .. } => 2,
            Self::Occupied { .. }
            | Self::NothingToTake { .. }
            | Self::EnPassantOver { .. }
            | Self::CastlingLost { .. } => 3,
            Self::Pinned { .. } => 4,
            Self::InCheck { .. }
            | Self::IntoCheck { .. }
            | Self::CastlingThroughCheck { .. }
            | Self::OpensCheck { .. } => 5,
            Self::DoesNotReach { .. } | Self::NoPromotionOn { .. } | Self::NotAPawn { .. } => 6,
        }
    }
}

fn word<S: Serializer>(role: &Role, s: S) -> Result<S::Ok, S::Error> {
    s.serialize_str(super::men::piece(*role))
}

fn shown<S: Serializer>(value: &impl fmt::Display, s: S) -> Result<S::Ok, S::Error> {
    s.collect_str(value)
}

fn maybe_shown<S: Serializer>(value: &Option<impl fmt::Display>, s: S) -> Result<S::Ok, S::Error> {
    match value {
        Some(value) => s.collect_str(value),
        None => s.serialize_none(),
    }
}
