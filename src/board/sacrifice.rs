//! Whether a move gives something up.
//!
//! # Definition
//! The *offer* of a move is the most the other side can win by static exchange with any legal capture
//! after it, less what the move itself captured or promoted. A move is a sacrifice of material when
//! its offer is at least [`OFFER`] and its side had another legal move with a smaller offer: the
//! material is given, not lost anyway. An offer of one pawn is a pawn offer, a kind of its own.
//! Whether it is *good* is for the judge to say, not for this file.
//!
//! *Active*: the moved piece is what can be taken. *Passive*: a piece is left where it stood.
//! *Sham*: the material is back, or mate comes, within three moves; *real* otherwise
//! (R. Spielmann, Richtig opfern!, 1935).
//!
//! # Known errors
//! Static exchange sees one square at a time, so a piece that cannot be taken for tactical reasons is
//! an offer all the same, and two pieces hanging at once count as the larger one. What hung before
//! and could have been saved only by a bad move counts as a passive sacrifice.

use serde::Serialize;
use shakmaty::{Chess, Color, Move, Position, Role};

use super::{Line, exchange};

/// From this offer on, in pawns, a move gives up more than a pawn.
pub const OFFER: f64 = 1.5;

/// What is given up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
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
            Self::Pawn => "a pawn",
            Self::Exchange => "the exchange",
            Self::Piece => "a piece",
            Self::Rook => "a rook",
            Self::Queen => "the queen",
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
    /// What accepting wins by static exchange, less what the move took, in pawns.
    pub pawns: i32,
}

/// The offer a move makes; `None` where it makes none, or where every other legal move would have
/// lost as much.
#[must_use]
pub fn offer(pos: &Chess, mv: &Move) -> Option<Offer> {
    let offer = raw_offer(pos, mv)?;
    let free_to_keep = pos.legal_moves().iter().any(|other| {
        other != mv && raw_offer(pos, other).is_none_or(|o| o.pawns < offer.pawns.min(2))
    });
    free_to_keep.then_some(offer)
}

fn raw_offer(pos: &Chess, mv: &Move) -> Option<Offer> {
    let mut next = pos.clone();
    next.play_unchecked(mv);
    let (won, accept) = exchange::best_capture(&next)?;
    let pawns = won - exchange::gain(mv);
    let taken = accept.capture()?;
    (pawns >= 1).then(|| Offer {
        gives: gives(taken, pawns),
        active: accept.to() == mv.to(),
        taken,
        accept,
        pawns,
    })
}

fn gives(taken: Role, pawns: i32) -> Gives {
    match taken {
        _ if f64::from(pawns) < OFFER => Gives::Pawn,
        Role::Queen => Gives::Queen,
        Role::Rook if pawns <= 2 => Gives::Exchange,
        Role::Rook => Gives::Rook,
        Role::Bishop | Role::Knight => Gives::Piece,
        Role::Pawn | Role::King => Gives::Pawn,
    }
}

/// True where the offer is a sham sacrifice: along `proof`, which starts with the sacrificing move in
/// the position `pos`, its side is mated for or has its material back within three moves of its own
/// after the sacrifice.
#[must_use]
pub fn is_sham(pos: &Chess, proof: &[Move]) -> bool {
    let side = pos.turn();
    let before = balance(pos, side);
    let mut line = Line::new(pos.clone());
    for mv in proof.iter().take(7) {
        if line.push(mv).is_err() {
            return false;
        }
    }
    let last = line.position();
    last.is_checkmate() && last.turn() != side || settled(&line) && balance(last, side) >= before
}

/// True where nothing is left to take in the last position, so that its material count means something.
fn settled(line: &Line) -> bool {
    line.ply() > 1
        && !line.position().is_check()
        && exchange::best_capture(line.position()).is_none()
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
