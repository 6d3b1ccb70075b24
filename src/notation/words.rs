//! Reasons as plain words, for places that have no better sentence of their own.

use std::fmt;

use super::men::piece;
use super::phantom::{Attacker, Reason};

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchPiece { role } => {
                write!(f, "{}", tr!("there is no {} to move", piece(*role)))
            }
            Self::NoneOn { role, file, rank } => {
                write!(f, "{}", tr!("there is no {} ", piece(*role)))?;
                match (file, rank) {
                    (Some(file), Some(rank)) => write!(f, "{}", tr!("on {file}{rank}")),
                    (Some(file), None) => write!(f, "{}", tr!("on the {file}-file")),
                    (None, Some(rank)) => write!(f, "{}", tr!("on rank {rank}")),
                    (None, None) => f.write_str(tr!("to move")),
                }
            }
            Self::NothingOn { on } => write!(f, "{}", tr!("nothing stands on {on}")),
            Self::NotYours { role, on } => {
                write!(
                    f,
                    "{}",
                    tr!("the {} on {on} belongs to the other side", piece(*role))
                )
            }
            Self::Captured { role, on, ply } => {
                write!(
                    f,
                    "{}",
                    tr!("the {} was captured on {on} at ply {ply}", piece(*role))
                )
            }
            Self::MovedAway { role, from, ply } => {
                write!(
                    f,
                    "{}",
                    tr!("the {} left {from} at ply {ply}", piece(*role))
                )
            }
            Self::Occupied {
                role, on, since, ..
            } => match since {
                Some(ply) => write!(f, "{}", tr!("a {} came to {on} at ply {ply}", piece(*role))),
                None => write!(f, "{}", tr!("a {} stands on {on}", piece(*role))),
            },
            Self::NothingToTake { on, gone } => match gone {
                Some(ply) => write!(
                    f,
                    "{}",
                    tr!("there is nothing to take on {on} since ply {ply}")
                ),
                None => write!(f, "{}", tr!("there is nothing to take on {on}")),
            },
            Self::EnPassantOver { pawn, .. } => {
                write!(
                    f,
                    "{}",
                    tr!("the pawn on {pawn} can no longer be taken in passing")
                )
            }
            Self::CastlingLost { ply } => match ply {
                Some(ply) => write!(f, "{}", tr!("the right to castle was lost at ply {ply}")),
                None => f.write_str(tr!("there is no right to castle to that side")),
            },
            Self::Pinned { role, on, by } => {
                write!(
                    f,
                    "{}",
                    tr!("the {} on {on} is pinned by {by}", piece(*role))
                )
            }
            Self::InCheck { by } => write!(f, "{}", tr!("the king is in check by {by}")),
            Self::IntoCheck { to, by } => write!(f, "{}", tr!("{to} is attacked by {by}")),
            Self::CastlingThroughCheck { over, by } => {
                write!(f, "{}", tr!("the king would pass {over}, attacked by {by}"))
            }
            Self::OpensCheck { by } => {
                write!(f, "{}", tr!("taking in passing lays the king open to {by}"))
            }
            Self::DoesNotReach { role, from } => {
                write!(
                    f,
                    "{}",
                    tr!("the {} on {from} does not move like that", piece(*role))
                )
            }
            Self::NoPromotionOn { on } => write!(f, "{}", tr!("a pawn is not promoted on {on}")),
            Self::NotAPawn { role, on } => {
                write!(
                    f,
                    "{}",
                    tr!("the {} on {on} cannot be promoted", piece(*role))
                )
            }
        }
    }
}

impl fmt::Display for Attacker {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", tr!("the {} on {}", piece(self.role), self.on))?;
        match (self.opened_from, self.since) {
            (Some(from), Some(ply)) => write!(f, "{}", tr!(", opened from {from} at ply {ply}")),
            (None, Some(ply)) => write!(f, "{}", tr!(" since ply {ply}")),
            _ => Ok(()),
        }
    }
}
