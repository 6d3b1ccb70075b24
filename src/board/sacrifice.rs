//! Whether a move gives something up.
//!
//! # Definition
//! The *offer* of a move is the most the other side can win by static exchange with any legal capture
//! after it, less what the move itself captured or promoted. It counts from one pawn on.
//!
//! *Named by what for what.* The men that both sides lose in that sequence, the move's own capture
//! included, are set against each other, minor piece against minor piece; the most valuable man left
//! over on the giving side names the offer: a queen; a rook, or the *exchange* where a minor piece
//! comes back for it; a *piece* (knight or bishop) for pawns or nothing; else a pawn. So rook takes
//! knight, pawn takes rook, queen takes pawn is a sacrifice of the exchange, although by value only one
//! pawn is given: players call it so whatever pawns come with it (T. Petrosian's and the Sicilian
//! ...Rxc3; games in the tests). Likewise bishop takes pawn, pawn takes bishop, knight takes pawn is a
//! piece for two pawns. By value alone ([`OFFER`]) both would be pawn offers, which no player would
//! understand; where the pawns make up for the piece in full, nothing is offered. Two minor pieces for
//! a rook are an uneven trade and are named by value.
//!
//! An offer of any of these but a pawn is a *sacrifice*, provided the material is *given, not lost
//! anyway*: another legal move makes no sacrifice, or offers less by at least [`OFFER`]. What hung
//! already before the move is given only if some *good* move saved it; which moves are good the judge
//! knows, see [`offer_given`]. An offer of a pawn is a kind of its own; there another move must offer
//! nothing. Whether an offer is *sound* is not for this file to say.
//!
//! *Active*: the moved piece is what can be taken. *Passive*: a piece is left where it stood.
//! *Sham*: the material is back, or mate comes, within three moves; *real* otherwise
//! (R. Spielmann, Richtig opfern!, 1935).
//!
//! # Known errors
//! Static exchange sees one square at a time, so a piece that cannot be taken for tactical reasons is
//! an offer all the same, and two pieces hanging at once count as the larger one. [`offer`], which
//! knows no good moves, takes every legal move for good.

use serde::Serialize;
use shakmaty::{Chess, Color, Move, Position, Role};

use super::{Line, exchange};

/// From this value on, in pawns, more than a pawn is given.
pub const OFFER: f64 = 1.5;

/// What is given up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Gives {
    /// One pawn.
    Pawn,
    /// A rook for a minor piece.
    Exchange,
    /// A knight or bishop.
    Piece,
    Rook,
    Queen,
}

impl Gives {
    /// The thing given, in words, with its article.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Pawn => tr!("a pawn"),
            Self::Exchange => tr!("the exchange"),
            Self::Piece => tr!("a piece"),
            Self::Rook => tr!("a rook"),
            Self::Queen => tr!("the queen"),
        }
    }
}

/// An offer of material.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    pub gives: Gives,
    /// The moved piece is what can be taken.
    pub active: bool,
    /// The piece that can be taken, and what it is.
    pub taken: Role,
    /// The capture that accepts.
    pub accept: Move,
    /// What accepting wins by static exchange, less what the move took, in pawns; at least 1.
    pub pawns: i32,
}

impl Offer {
    /// True where more than a pawn is given.
    #[must_use]
    pub fn is_sacrifice(&self) -> bool {
        self.gives != Gives::Pawn
    }

    /// True where a move that makes the offer `other`, or none, keeps what this one gives.
    fn is_kept_by(&self, other: Option<&Self>) -> bool {
        let Some(other) = other else {
            return true;
        };
        let less = f64::from(self.pawns - other.pawns) >= OFFER;
        self.is_sacrifice() && (!other.is_sacrifice() || less)
    }
}

/// The offer a move makes; `None` where it makes none, or where every other legal move would have
/// lost as much.
#[must_use]
pub fn offer(pos: &Chess, mv: &Move) -> Option<Offer> {
    offer_given(pos, mv, |_| true)
}

/// The same, where what hung already before the move counts as given only if a move that is `good`
/// kept it. An active offer needs no good move: not moving there would have kept the piece.
#[must_use]
pub fn offer_given(pos: &Chess, mv: &Move, good: impl Fn(&Move) -> bool) -> Option<Offer> {
    let offer = made(pos, mv)?;
    let hung = !offer.active && hung_before(pos, &offer);
    let given = pos.legal_moves().iter().any(|other| {
        other != mv && (!hung || good(other)) && offer.is_kept_by(made(pos, other).as_ref())
    });
    given.then_some(offer)
}

/// True where the other side could have taken the same piece with profit already, had it been to move.
fn hung_before(pos: &Chess, offer: &Offer) -> bool {
    let Ok(passed) = pos.clone().swap_turn() else {
        return false;
    };
    exchange::on_square(&passed, offer.accept.to()) >= offer.pawns
}

/// What a move leaves to be won, whatever else could have been played.
fn made(pos: &Chess, mv: &Move) -> Option<Offer> {
    let mut next = pos.clone();
    next.play_unchecked(mv);
    let (won, accept) = exchange::best_capture(&next)?;
    let pawns = won - exchange::gain(mv);
    let taken = accept.capture()?;
    (pawns >= 1).then(|| Offer {
        gives: gives(mv, &exchange::sequence(&next, &accept), pawns),
        active: accept.to() == mv.to() || accept.is_en_passant(),
        taken,
        accept,
        pawns,
    })
}

/// The name of what is given by `mv` and the captures that answer it.
fn gives(mv: &Move, answer: &[Move], pawns: i32) -> Gives {
    let (given, got) = left_over(losses(mv, answer));
    match given.into_iter().max() {
        Some(Role::Queen) => Gives::Queen,
        Some(Role::Rook) if got.iter().any(|r| is_minor(*r)) => Gives::Exchange,
        Some(Role::Rook) => Gives::Rook,
        Some(Role::Bishop | Role::Knight)
            if !got.contains(&Role::Rook) || f64::from(pawns) >= OFFER =>
        {
            Gives::Piece
        }
        _ => Gives::Pawn,
    }
}

/// Like is set against like, a bishop being like a knight; what stays on either side.
fn left_over((mut given, got): (Vec<Role>, Vec<Role>)) -> (Vec<Role>, Vec<Role>) {
    let alike = |a: Role, b: Role| a == b || is_minor(a) && is_minor(b);
    let mut kept = Vec::new();
    for role in got {
        match given.iter().position(|r| alike(*r, role)) {
            Some(at) => {
                given.swap_remove(at);
            }
            None => kept.push(role),
        }
    }
    (given, kept)
}

fn is_minor(role: Role) -> bool {
    matches!(role, Role::Bishop | Role::Knight)
}

/// The men that the side of `mv` loses, and those it takes. A pawn that has promoted is a pawn.
fn losses(mv: &Move, answer: &[Move]) -> (Vec<Role>, Vec<Role>) {
    let (mut given, mut got): (Vec<Role>, Vec<Role>) = (Vec::new(), Vec::new());
    got.extend(mv.capture());
    let before = std::iter::once(mv).chain(answer);
    for (i, (last, taking)) in before.zip(answer).enumerate() {
        let was_last = taking.to() == last.to() || taking.is_en_passant();
        let role = if was_last {
            Some(last.role())
        } else {
            taking.capture()
        };
        if i % 2 == 0 {
            given.extend(role);
        } else {
            got.extend(role);
        }
    }
    (given, got)
}

/// Half-moves within which a sham sacrifice is repaid: itself, and three moves of each side.
const SHAM: usize = 7;

/// True where the offer is a sham sacrifice: along `proof`, which starts with the sacrificing move in
/// the position `pos`, its side mates or has its material back within three moves of its own after the
/// sacrifice. Material is counted only where the other side can win none by a capture and is not in
/// check.
#[must_use]
pub fn is_sham(pos: &Chess, proof: &[Move]) -> bool {
    let side = pos.turn();
    let before = balance(pos, side);
    let mut line = Line::new(pos.clone());
    for mv in proof.iter().take(SHAM) {
        if line.push(mv).is_err() {
            return false;
        }
        let now = line.position();
        if now.is_checkmate() {
            return now.turn() != side;
        }
        if line.ply() > 1 && now.turn() != side && is_settled(now) && balance(now, side) >= before {
            return true;
        }
    }
    false
}

/// True where nothing is left to take, so that the material count means something.
fn is_settled(pos: &Chess) -> bool {
    !pos.is_check() && exchange::best_capture(pos).is_none()
}

/// Material of `side` less that of the other, in pawns.
#[must_use]
pub fn balance(pos: &Chess, side: Color) -> i32 {
    let count = |color| {
        let pieces = pos.board().material_side(color).zip_role();
        pieces
            .into_iter()
            .map(|(role, n)| exchange::value(role) * i32::from(n))
            .sum::<i32>()
    };
    count(side) - count(side.other())
}

#[cfg(test)]
mod tests;
