//! An advantage that was not brought home: where it was largest, what it was made of, and each drop.
//!
//! # Definition
//! His expected score was .70 or more before a move of his, and still so after it and after the reply, unless his own move
//! gave it away; and the game was not won. The peak is the last of the highest of these scores. Its kind is what the board shows there: material in the exchange value of the men (pawn 1, knight
//! and bishop 3, rook 5, queen 9; common practice), where everything that can be taken has been taken; without material an
//! attack, where three or more of his men beside the king bear on the squares round the other king (common practice, no
//! source); else space, where his pawns and men control clearly more squares of the other half (four or more); else better
//! placed men. A drop is a move of his that gave away .05 or more after the peak.

use serde::Serialize;
use shakmaty::{Bitboard, Chess, Color, Position, Role, attacks};

use crate::board::{exchange, sacrifice};
use crate::games::height::{self, DROP};
use crate::games::moment::ADVANTAGE;
use crate::games::survey::Surveyed;

/// Men that make an attack, and squares that make space.
const ATTACKERS: usize = 3;
const SPACE: i32 = 4;

/// An advantage and what became of it.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Unconverted {
    /// The half-move before which he stood best, and his expected score there.
    pub peak: usize,
    pub expected: f64,
    pub kind: AdvantageKind,
    /// His moves that gave it away.
    pub drops: Vec<AdvantageDrop>,
}

/// One move that gave part of it away.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct AdvantageDrop {
    pub ply: usize,
    pub played: String,
    pub best: String,
    pub before: f64,
    pub after: f64,
    /// Milliseconds that he took, and that he had.
    pub spent_ms: Option<u64>,
    pub left_ms: Option<u64>,
}

/// What an advantage is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum AdvantageKind {
    /// So many pawns' worth, without a piece or an exchange.
    Pawns(u8),
    Exchange,
    Piece,
    /// More than a piece.
    Material,
    Attack,
    Space,
    Placement,
}

impl AdvantageKind {
    /// In words.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Pawns(1) => tr!("a pawn more").to_owned(),
            Self::Pawns(n) => tr!("{} pawns more", crate::text::number(n.into())),
            Self::Exchange => tr!("the exchange").to_owned(),
            Self::Piece => tr!("a piece more").to_owned(),
            Self::Material => tr!("much material").to_owned(),
            Self::Attack => tr!("an attack on the king").to_owned(),
            Self::Space => tr!("space").to_owned(),
            Self::Placement => tr!("better placed men").to_owned(),
        }
    }
}

/// The advantage of a game that was not won; `None` where there was none, or the game has no result.
#[must_use]
pub fn unconverted(surveyed: &Surveyed) -> Option<Unconverted> {
    let game = &surveyed.game;
    if game.points()? >= 1.0 {
        return None;
    }
    let (peak, expected) = height::peak(surveyed).filter(|peak| peak.1 >= ADVANTAGE)?;
    let own = (peak..surveyed.plies.len()).filter(|p| game.is_his(*p));
    let drops = own.filter_map(|ply| {
        let scored = surveyed.plies.get(ply)?;
        let (played, best) = surveyed.sans(ply);
        (scored.drop() >= DROP).then(|| AdvantageDrop {
            ply,
            played,
            best,
            before: scored.before,
            after: scored.after,
            spent_ms: game.times.spent(ply),
            left_ms: game.times.before(ply),
        })
    });
    Some(Unconverted {
        peak,
        expected,
        kind: kind(game.line_to(peak).position(), game.side),
        drops: drops.collect(),
    })
}

/// What his advantage in a position is made of.
#[must_use]
pub fn kind(pos: &Chess, side: Color) -> AdvantageKind {
    let settled = settled(pos);
    let more = sacrifice::balance(&settled, side);
    let count = |role: Role| {
        let of = |c: Color| (settled.board().by_role(role) & settled.board().by_color(c)).count();
        of(side) as i32 - of(side.other()) as i32
    };
    let minors = count(Role::Knight) + count(Role::Bishop);
    match (more, count(Role::Rook), minors) {
        (5.., ..) => AdvantageKind::Material,
        (_, 1, -1) if more > 0 => AdvantageKind::Exchange,
        (2.., 0, 1..) => AdvantageKind::Piece,
        (1.., 0, 0) => AdvantageKind::Pawns(u8::try_from(more).unwrap_or(u8::MAX)),
        (3.., ..) => AdvantageKind::Material,
        (1.., ..) => AdvantageKind::Pawns(u8::try_from(more).unwrap_or(u8::MAX)),
        _ if attackers(pos, side) >= ATTACKERS => AdvantageKind::Attack,
        _ if space(pos, side) - space(pos, side.other()) >= SPACE => AdvantageKind::Space,
        _ => AdvantageKind::Placement,
    }
}

/// Everything that wins something by taking has been taken.
fn settled(pos: &Chess) -> Chess {
    let mut pos = pos.clone();
    for _ in 0..16 {
        match exchange::best_capture(&pos) {
            Some((gain, mv)) if gain > 0 && pos.is_legal(&mv) => pos.play_unchecked(&mv),
            _ => break,
        }
    }
    pos
}

/// Men of a side, king and pawns apart, that bear on the squares round the other king.
fn attackers(pos: &Chess, side: Color) -> usize {
    let board = pos.board();
    let Some(king) = board.king_of(side.other()) else {
        return 0;
    };
    let round = attacks::king_attacks(king);
    let men = board.by_color(side) & !board.pawns() & !board.kings();
    men.into_iter()
        .filter(|s| (board.attacks_from(*s) & round).any())
        .count()
}

/// Squares of the other half that a side's pawns and men attack, the king apart.
fn space(pos: &Chess, side: Color) -> i32 {
    let board = pos.board();
    let half: Bitboard = side.other().fold_wb(Bitboard::SOUTH, Bitboard::NORTH);
    let men = board.by_color(side) & !board.kings();
    let seen = men
        .into_iter()
        .fold(Bitboard::EMPTY, |all, s| all | board.attacks_from(s));
    (seen & half).count() as i32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::line::read_fen;

    #[test]
    fn what_an_advantage_is_made_of() {
        for (fen, kind_of) in [
            (
                "4k3/pp6/8/8/8/8/PPP5/4K3 w - - 0 1",
                AdvantageKind::Pawns(1),
            ),
            (
                "4k3/pp2n3/8/8/8/8/PP2R3/4K3 w - - 0 1",
                AdvantageKind::Exchange,
            ),
            ("4k3/pp6/8/8/8/8/PP2N3/4K3 w - - 0 1", AdvantageKind::Piece),
            (
                "4k3/pp6/8/8/8/8/PP1Q4/4K3 w - - 0 1",
                AdvantageKind::Material,
            ),
            // A knight hangs: it is counted as taken.
            (
                "4k3/pp6/8/3n4/4P3/8/PP6/4KN2 w - - 0 1",
                AdvantageKind::Piece,
            ),
            (
                "r1bq1rk1/ppp2pp1/n6p/6NQ/8/3B4/PPP2PPP/R3R1K1 w - - 0 1",
                AdvantageKind::Attack,
            ),
        ] {
            assert_eq!(
                kind(&read_fen(fen).unwrap(), Color::White),
                kind_of,
                "{fen}"
            );
        }
        let even = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
        let even = kind(&read_fen(even).unwrap(), Color::White);
        assert_eq!(even, AdvantageKind::Placement);
    }
}
