//! Reasons as plain words, for places that have no better sentence of their own.

use std::fmt;

use super::men::piece;
use super::phantom::{Attacker, Reason};

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchPiece { role } => write!(f, "there is no {} to move", piece(*role)),
            Self::NoneOn { role, file, rank } => {
                write!(f, "there is no {} ", piece(*role))?;
                match (file, rank) {
                    (Some(file), Some(rank)) => write!(f, "on {file}{rank}"),
                    (Some(file), None) => write!(f, "on the {file}-file"),
                    (None, Some(rank)) => write!(f, "on rank {rank}"),
                    (None, None) => f.write_str("to move"),
                }
            }
            Self::NothingOn { on } => write!(f, "nothing stands on {on}"),
            Self::NotYours { role, on } => {
                write!(f, "the {} on {on} belongs to the other side", piece(*role))
            }
            Self::Captured { role, on, ply } => {
                write!(f, "the {} was captured on {on} at ply {ply}", piece(*role))
            }
            Self::MovedAway { role, from, ply } => {
                write!(f, "the {} left {from} at ply {ply}", piece(*role))
            }
            Self::Occupied {
                role, on, since, ..
            } => match since {
                Some(ply) => write!(f, "a {} came to {on} at ply {ply}", piece(*role)),
                None => write!(f, "a {} stands on {on}", piece(*role)),
            },
            Self::NothingToTake { on, gone } => match gone {
                Some(ply) => write!(f, "there is nothing to take on {on} since ply {ply}"),
                None => write!(f, "there is nothing to take on {on}"),
            },
            Self::EnPassantOver { pawn, .. } => {
                write!(f, "the pawn on {pawn} can no longer be taken in passing")
            }
            Self::CastlingLost { ply } => match ply {
                Some(ply) => write!(f, "the right to castle was lost at ply {ply}"),
                None => f.write_str("there is no right to castle to that side"),
            },
            Self::Pinned { role, on, by } => {
                write!(f, "the {} on {on} is pinned by {by}", piece(*role))
            }
            Self::InCheck { by } => write!(f, "the king is in check by {by}"),
            Self::IntoCheck { to, by } => write!(f, "{to} is attacked by {by}"),
            Self::CastlingThroughCheck { over, by } => {
                write!(f, "the king would pass {over}, attacked by {by}")
            }
            Self::OpensCheck { by } => write!(f, "taking in passing lays the king open to {by}"),
            Self::DoesNotReach { role, from } => {
                write!(f, "the {} on {from} does not move like that", piece(*role))
            }
            Self::NoPromotionOn { on } => write!(f, "a pawn is not promoted on {on}"),
            Self::NotAPawn { role, on } => {
                write!(f, "the {} on {on} cannot be promoted", piece(*role))
            }
        }
    }
}

impl fmt::Display for Attacker {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the {} on {}", piece(self.role), self.on)?;
        match (self.opened_from, self.since) {
            (Some(from), Some(ply)) => write!(f, ", opened from {from} at ply {ply}"),
            (None, Some(ply)) => write!(f, " since ply {ply}"),
            _ => Ok(()),
        }
    }
}
