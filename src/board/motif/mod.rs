//! What kind of move a move is, in the terms of the trade.
//!
//! Takes a move and the line before it (some motifs look back), for [`motifs_in_line`] also the line
//! that proves it (some look ahead). Gives [`Motif`]s, each with its definition and its known errors
//! beside it. Names and definitions are common practice of the training literature, no source, unless
//! one is given. A move has exactly one *forcing class* (the first of [`Motif::FORCING`] that holds)
//! and any number of other motifs. Sacrifices are [`super::sacrifice`]'s.
//!
//! A man is *prey* of a piece that attacks it where it is worth more than that piece or nothing defends
//! it; the king always. A piece *hangs* where static exchange wins something by taking it.

mod attack;
mod duty;
mod ending;
mod forcing;
mod pin;
mod sequence;
mod shape;
mod trap;

use serde::Serialize;
use shakmaty::{Chess, Color, Move, Position, Square};

use super::Line;
pub use ending::wrong_bishop_corner;
pub use sequence::every_move_harms;

/// One property of a move.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    serde::Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Motif {
    /// Two pieces attack the king at once.
    DoubleCheck,
    Check,
    /// A pawn reaches the last rank (with or without capturing).
    Promotion,
    Capture,
    /// Not forcing by itself, but if the other side passed, mate in one would follow.
    ThreatOfMate,
    /// If the other side passed, a capture or a promotion would win two pawns or more that could not be
    /// won before. Threats that need two moves are not seen.
    OtherThreat,
    /// None of these.
    Quiet,
    /// To a rook, bishop or knight.
    Underpromotion,
    EnPassant,
    Castling,
    KingMove,
    /// A piece (not a pawn, not the king) goes towards its own side of the board.
    Backward,
    /// A piece (not a pawn, not the king) stays on its rank.
    Sideways,
    /// A queen, rook or bishop goes four squares or more in one direction.
    LongMove,
    /// A piece returns to the square it left with its side's last move in this line.
    Switchback,
    /// A check given by a piece that did not move.
    DiscoveredCheck,
    /// A queen, rook or bishop that did not move now attacks prey, other than king and pawns, that the
    /// move has opened to it.
    DiscoveredAttack,
    /// At least two men other than pawns are newly attacked as prey, by the moved piece or by pieces it
    /// has uncovered, and the moved piece cannot be taken with profit.
    DoubleAttack,
    /// A piece of the other side is now tied to its king that was not before.
    PinMade,
    /// The move takes or newly attacks a piece tied to its king, or goes where only its being tied keeps
    /// a piece from taking.
    PinUsed,
    /// A piece of its own that was tied to the king no longer is, and still stands.
    PinBroken,
    /// A piece tied to a more valuable or undefended piece behind it leaves the line all the same.
    PinIgnored,
    /// A move between a checking piece and the king.
    Interposition,
    /// Instead of retaking with profit, a forcing move elsewhere comes first (zwischenzug).
    Intermezzo,
    /// A threat of the other side stays, and is answered by a threat as great.
    CounterThreat,
    /// A piece that is lost anyway takes what it can and is taken.
    Desperado,
    /// The other side has no legal move and is not in check, at once or at the end of the proof.
    Stalemate,
    /// Between two occurrences of a position in the proof every move of this side is a check.
    PerpetualCheck,
    /// The side that has to move would rather pass; see [`every_move_harms`]. Only a judge can tell.
    EveryMoveHarms,
    /// After the move each side has one bishop, on squares of different colour, and no knight.
    OppositeColouredBishops,
    /// The king is mated.
    Checkmate,
    /// A knight, bishop, rook or queen of the other side that could be saved no longer can: whatever is played, it is
    /// won for less than it is worth, and neither a check nor a pin keeps it where it is.
    TrappedPiece,
    /// The man that takes the moved piece had guarded something else, which now falls or is where mate is given.
    Deflection,
    /// The same where the moved piece took what that man guarded as well: it had two things to guard.
    Overload,
    /// With nothing but kings and pawns left the king goes to where both stand on one file or rank with one, three or
    /// five squares between them, and the other side has to move.
    Opposition,
}

impl Motif {
    /// The forcing classes, the most forcing first.
    pub const FORCING: [Self; 7] = [
        Self::DoubleCheck,
        Self::Check,
        Self::Promotion,
        Self::Capture,
        Self::ThreatOfMate,
        Self::OtherThreat,
        Self::Quiet,
    ];
}

/// A move with the positions before and after it.
struct Played<'a> {
    line: &'a Line,
    pos: &'a Chess,
    mv: &'a Move,
    next: Chess,
}

impl<'a> Played<'a> {
    fn new(line: &'a Line, mv: &'a Move) -> Self {
        let pos = line.position();
        let mut next = pos.clone();
        next.play_unchecked(mv);
        Self {
            line,
            pos,
            mv,
            next,
        }
    }

    /// The side that has moved.
    fn side(&self) -> Color {
        self.pos.turn()
    }

    /// Where the moved piece now stands; for castling the rook.
    fn arrival(&self) -> Square {
        match self.mv.castling_side() {
            Some(castling) => castling.rook_to(self.side()),
            None => self.mv.to(),
        }
    }
}

/// Whether a move has a motif.
type Test = fn(&Played<'_>) -> bool;

/// The motifs besides the forcing class, each with its test, in the order in which they are told.
const TESTS: [(Motif, Test); 24] = [
    (Motif::Underpromotion, shape::is_underpromotion),
    (Motif::EnPassant, shape::is_en_passant),
    (Motif::Castling, shape::is_castling),
    (Motif::KingMove, shape::is_king_move),
    (Motif::Backward, shape::is_backward),
    (Motif::Sideways, shape::is_sideways),
    (Motif::LongMove, shape::is_long),
    (Motif::Switchback, sequence::is_switchback),
    (Motif::DiscoveredCheck, attack::is_discovered_check),
    (Motif::DiscoveredAttack, attack::is_discovered_attack),
    (Motif::DoubleAttack, attack::is_double_attack),
    (Motif::PinMade, pin::is_made),
    (Motif::PinUsed, pin::is_used),
    (Motif::PinBroken, pin::is_broken),
    (Motif::PinIgnored, pin::is_ignored),
    (Motif::Interposition, shape::is_interposition),
    (Motif::Intermezzo, sequence::is_intermezzo),
    (Motif::CounterThreat, sequence::is_counter_threat),
    (Motif::Desperado, sequence::is_desperado),
    (
        Motif::OppositeColouredBishops,
        shape::leaves_opposite_bishops,
    ),
    (Motif::Stalemate, |p| p.next.is_stalemate()),
    (Motif::Checkmate, |p| p.next.is_checkmate()),
    (Motif::TrappedPiece, |p| trap::sprung(p).is_some()),
    (Motif::Opposition, ending::takes_opposition),
];

/// Checks, captures and promotions: the moves that every calculation must look at first.
#[must_use]
pub fn is_forcing(pos: &Chess, mv: &Move) -> bool {
    mv.is_capture() || mv.promotion().is_some() || gives_check(pos, mv)
}

/// True where the move attacks the other king.
#[must_use]
pub fn gives_check(pos: &Chess, mv: &Move) -> bool {
    let mut next = pos.clone();
    next.play_unchecked(mv);
    next.is_check()
}

/// The forcing class of a move alone: one of [`Motif::FORCING`].
#[must_use]
pub fn forcing_class(pos: &Chess, mv: &Move) -> Motif {
    forcing::class(&Played::new(&Line::new(pos.clone()), mv))
}

/// The piece that the move leaves without a way out ([`Motif::TrappedPiece`]).
#[must_use]
pub fn trapped_piece(line: &Line, mv: &Move) -> Option<Square> {
    trap::sprung(&Played::new(line, mv))
}

/// All motifs of a move in the position that `line` has reached, as far as they can be seen without
/// knowing what follows: its forcing class, then the others in the order of their definition.
#[must_use]
pub fn motifs(line: &Line, mv: &Move) -> Vec<Motif> {
    let played = Played::new(line, mv);
    let others = TESTS.iter().filter(|(_, holds)| holds(&played));
    std::iter::once(forcing::class(&played))
        .chain(others.map(|(motif, _)| *motif))
        .collect()
}

/// The motifs of the first move of `proof`, and those that only the proof shows: a perpetual check,
/// stalemate at its end, a guard that is made to leave. Empty where there is no proof; moves from the first
/// that is not legal on are ignored.
#[must_use]
pub fn motifs_in_line(line: &Line, proof: &[Move]) -> Vec<Motif> {
    let Some(first) = proof.first() else {
        return Vec::new();
    };
    let mut found = motifs(line, first);
    for (motif, holds) in [
        (Motif::Stalemate, sequence::ends_in_stalemate(line, proof)),
        (Motif::PerpetualCheck, sequence::is_perpetual(line, proof)),
    ] {
        if holds && !found.contains(&motif) {
            found.push(motif);
        }
    }
    found.extend(duty::neglected(line, proof));
    found
}

/// The motifs of a move, those that `proof` shows among them where it begins with the move.
#[must_use]
pub fn motifs_of(line: &Line, mv: &Move, proof: &[Move]) -> Vec<Motif> {
    if proof.first() == Some(mv) {
        motifs_in_line(line, proof)
    } else {
        motifs(line, mv)
    }
}

#[cfg(test)]
mod tests;
