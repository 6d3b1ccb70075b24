//! What a trial carries, as one number of bits: compact to keep, quick to count.

use serde::{Deserialize, Serialize, Serializer};
use shakmaty::Role;

use crate::attempt::BoardVisibility;
use crate::board::motif::Motif;
use crate::board::phase::Phase;
use crate::review::{Trial, Turn};

/// One property of a trial: a number below 62 that is kept in the store. Numbers may be added, never
/// given another meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Feature(u8);

/// Sets of properties that exclude each other, or that are asked about together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Group {
    Turn,
    Depth,
    Class,
    Motif,
    GivesUp,
    Piece,
    Standing,
    Phase,
    Pressure,
}

/// Number, group, name in commands and JSON, words in the plural.
type Row = (u8, Group, &'static str, &'static str);

const ROWS: [Row; 56] = [
    (0, Group::Turn, "own-moves", "your own moves"),
    (1, Group::Turn, "replies", "your opponent's replies"),
    (
        2,
        Group::Depth,
        "half-moves-1-2",
        "moves one or two half-moves deep",
    ),
    (
        3,
        Group::Depth,
        "half-moves-3-4",
        "moves three or four half-moves deep",
    ),
    (
        4,
        Group::Depth,
        "half-moves-5-6",
        "moves five or six half-moves deep",
    ),
    (
        5,
        Group::Depth,
        "half-moves-7-on",
        "moves seven or more half-moves deep",
    ),
    (6, Group::Class, "double-checks", "double checks"),
    (7, Group::Class, "checks", "checks"),
    (8, Group::Class, "promotions", "promotions"),
    (9, Group::Class, "captures", "captures"),
    (10, Group::Class, "threats-of-mate", "threats of mate"),
    (
        11,
        Group::Class,
        "threats",
        "moves that threaten to win something",
    ),
    (12, Group::Class, "quiet-moves", "quiet moves"),
    (13, Group::Motif, "underpromotions", "underpromotions"),
    (14, Group::Motif, "en-passant", "captures en passant"),
    (15, Group::Motif, "castling", "castling moves"),
    (17, Group::Motif, "backward-moves", "moves backward"),
    (18, Group::Motif, "sideways-moves", "moves sideways"),
    (19, Group::Motif, "long-moves", "long moves"),
    (
        20,
        Group::Motif,
        "switchbacks",
        "moves back to where the piece came from",
    ),
    (21, Group::Motif, "discovered-checks", "discovered checks"),
    (22, Group::Motif, "discovered-attacks", "discovered attacks"),
    (23, Group::Motif, "double-attacks", "double attacks"),
    (24, Group::Motif, "pins-made", "moves that pin"),
    (25, Group::Motif, "pins-used", "moves that use a pin"),
    (26, Group::Motif, "pins-broken", "moves that break a pin"),
    (
        27,
        Group::Motif,
        "pins-ignored",
        "moves out of a pin in spite of it",
    ),
    (
        28,
        Group::Motif,
        "interpositions",
        "moves between a check and the king",
    ),
    (29, Group::Motif, "in-between-moves", "moves in between"),
    (30, Group::Motif, "counter-threats", "counter-threats"),
    (
        31,
        Group::Motif,
        "desperados",
        "captures by a piece that is lost anyway",
    ),
    (
        32,
        Group::Motif,
        "opposite-bishops",
        "moves into opposite-coloured bishops",
    ),
    (33, Group::Motif, "stalemates", "moves that stalemate"),
    (34, Group::Motif, "mates", "moves that mate"),
    (35, Group::Motif, "perpetual-checks", "perpetual checks"),
    (
        36,
        Group::Motif,
        "zugzwang",
        "moves after which every move harms",
    ),
    (
        37,
        Group::GivesUp,
        "own-sacrifices",
        "own moves that give something up",
    ),
    (
        38,
        Group::GivesUp,
        "replies-that-give-up",
        "replies that give something up",
    ),
    (39, Group::Piece, "pawn-moves", "pawn moves"),
    (40, Group::Piece, "knight-moves", "knight moves"),
    (41, Group::Piece, "bishop-moves", "bishop moves"),
    (42, Group::Piece, "rook-moves", "rook moves"),
    (43, Group::Piece, "queen-moves", "queen moves"),
    (44, Group::Piece, "king-moves", "king moves"),
    (
        45,
        Group::Standing,
        "when-winning",
        "moves in positions that you are winning",
    ),
    (
        46,
        Group::Standing,
        "when-level",
        "moves in positions in the balance",
    ),
    (
        47,
        Group::Standing,
        "when-worse",
        "moves in positions in which you are worse",
    ),
    (48, Group::Phase, "openings", "moves in openings"),
    (49, Group::Phase, "middlegames", "moves in middlegames"),
    (50, Group::Phase, "endings", "moves in endings"),
    (
        51,
        Group::Pressure,
        "little-time",
        "moves written with little time left",
    ),
    (
        52,
        Group::Pressure,
        "time-left",
        "moves written with time in hand",
    ),
    (53, Group::Motif, "traps", "moves that trap a piece"),
    (54, Group::Motif, "deflections", "deflections"),
    (55, Group::Motif, "overloads", "moves that overload a piece"),
    (
        56,
        Group::Motif,
        "oppositions",
        "king moves that take the opposition",
    ),
];

/// Own score at the root from which a position is winning, and up to which it is worse.
pub const WINNING: f64 = 0.70;
pub const WORSE: f64 = 0.30;

const SEEN: u32 = 63;
const BUCKETS: usize = 4;
const CLASSES: usize = 7;
/// Strata: whose move, half-moves deep, forcing class.
pub const STRATA: usize = 2 * BUCKETS * CLASSES;

impl Feature {
    /// All of them, in the order of their numbers.
    pub fn all() -> impl Iterator<Item = Self> {
        ROWS.iter().map(|row| Self(row.0))
    }

    /// The one with that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        ROWS.iter().find(|row| row.2 == name).map(|row| Self(row.0))
    }

    fn row(self) -> Row {
        // Every `Feature` comes out of the table, or out of a number that was looked up there.
        let found = ROWS.iter().find(|row| row.0 == self.0);
        *found.unwrap_or(&ROWS[0])
    }

    #[must_use]
    pub fn name(self) -> &'static str {
        self.row().2
    }

    #[must_use]
    pub fn group(self) -> Group {
        self.row().1
    }

    /// In words, in the plural: 'moves backward'.
    #[must_use]
    pub fn words(self) -> &'static str {
        crate::translation::text(self.row().3)
    }

    pub(super) fn index(self) -> usize {
        usize::from(self.0)
    }

    fn bit(self) -> u64 {
        1 << self.0
    }
}

impl Serialize for Feature {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.name())
    }
}

/// The properties of one trial, and whether it was seen.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, schemars::JsonSchema,
)]
#[serde(transparent)]
pub struct Bits(u64);

impl Bits {
    /// A trial of a player who stood at `standing` (0 to 1) at the root.
    #[must_use]
    pub fn of(trial: &Trial, standing: f64) -> Self {
        let mut bits = Self::moves(trial.class, &trial.motifs, trial.piece);
        bits = bits.by(trial.turn, trial.gives_up);
        bits.set(2 + bucket(trial.ply));
        bits.set(standing_code(standing));
        bits.set(match trial.phase {
            Phase::Opening => 48,
            Phase::Middlegame => 49,
            Phase::Ending => 50,
        });
        match trial.pressed {
            Some(true) => bits.set(51),
            Some(false) => bits.set(52),
            None => {}
        }
        bits.with_seen(trial.seen)
    }

    /// What a move is by itself.
    #[must_use]
    pub fn moves(class: Motif, motifs: &[Motif], piece: Role) -> Self {
        let mut bits = Self(0);
        bits.set(class_code(class));
        for code in motifs.iter().filter_map(|m| motif_code(*m)) {
            bits.set(code);
        }
        bits.set(match piece {
            Role::Pawn => 39,
            Role::Knight => 40,
            Role::Bishop => 41,
            Role::Rook => 42,
            Role::Queen => 43,
            Role::King => 44,
        });
        bits
    }

    /// The same as a move of one side, which gives something up or not.
    #[must_use]
    pub fn by(mut self, turn: Turn, gives_up: bool) -> Self {
        let (of, gives) = match turn {
            Turn::Player => (0, 37),
            Turn::Opponent => (1, 38),
        };
        self.set(of);
        self.set(if gives_up { gives } else { of });
        self
    }

    /// A trial with just these properties: for tests and simulations.
    #[must_use]
    pub fn with(features: &[Feature], seen: bool) -> Self {
        let all = features.iter().fold(0, |all, f| all | f.bit());
        Self(all).with_seen(seen)
    }

    fn set(&mut self, code: u8) {
        self.0 |= 1 << code;
    }

    #[must_use]
    pub fn with_seen(self, seen: bool) -> Self {
        Self(self.0 & !(1 << SEEN) | u64::from(seen) << SEEN)
    }

    #[must_use]
    pub fn seen(self) -> bool {
        self.0 >> SEEN & 1 == 1
    }

    #[must_use]
    pub fn has(self, feature: Feature) -> bool {
        self.0 & feature.bit() != 0
    }

    /// Those of both.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// The properties as numbers of bits, without the seen one.
    pub(super) fn mask(self) -> u64 {
        self.0 & !(1 << SEEN)
    }

    /// Which stratum it lies in.
    pub(super) fn stratum(self) -> usize {
        let at = |from: u8, count: usize| {
            (0..count)
                .find(|i| self.0 >> (usize::from(from) + i) & 1 == 1)
                .unwrap_or(count - 1)
        };
        (at(0, 2) * BUCKETS + at(2, BUCKETS)) * CLASSES + at(6, CLASSES)
    }
}

/// Strata that are one where what distinguishes them is the question itself.
pub(super) fn merged(stratum: usize, group: Group) -> usize {
    let (turn, bucket, class) = (
        stratum / (BUCKETS * CLASSES),
        stratum / CLASSES % BUCKETS,
        stratum % CLASSES,
    );
    let (turn, bucket, class) = match group {
        Group::Turn => (0, bucket, class),
        Group::Depth => (turn, 0, class),
        Group::Class => (turn, bucket, 0),
        _ => (turn, bucket, class),
    };
    (turn * BUCKETS + bucket) * CLASSES + class
}

/// 1-2, 3-4, 5-6, 7 and more half-moves.
fn bucket(ply: usize) -> u8 {
    match ply {
        0..=2 => 0,
        3..=4 => 1,
        5..=6 => 2,
        _ => 3,
    }
}

/// Standing: winning, level, worse.
pub(super) fn standing_code(standing: f64) -> u8 {
    if standing >= WINNING {
        45
    } else if standing <= WORSE {
        47
    } else {
        46
    }
}

fn class_code(class: Motif) -> u8 {
    match class {
        Motif::DoubleCheck => 6,
        Motif::Check => 7,
        Motif::Promotion => 8,
        Motif::Capture => 9,
        Motif::ThreatOfMate => 10,
        Motif::OtherThreat => 11,
        _ => 12,
    }
}

/// `None` for the forcing classes, and for king moves, which are a piece's.
fn motif_code(motif: Motif) -> Option<u8> {
    Some(match motif {
        Motif::Underpromotion => 13,
        Motif::EnPassant => 14,
        Motif::Castling => 15,
        Motif::Backward => 17,
        Motif::Sideways => 18,
        Motif::LongMove => 19,
        Motif::Switchback => 20,
        Motif::DiscoveredCheck => 21,
        Motif::DiscoveredAttack => 22,
        Motif::DoubleAttack => 23,
        Motif::PinMade => 24,
        Motif::PinUsed => 25,
        Motif::PinBroken => 26,
        Motif::PinIgnored => 27,
        Motif::Interposition => 28,
        Motif::Intermezzo => 29,
        Motif::CounterThreat => 30,
        Motif::Desperado => 31,
        Motif::OppositeColouredBishops => 32,
        Motif::Stalemate => 33,
        Motif::Checkmate => 34,
        Motif::PerpetualCheck => 35,
        Motif::EveryMoveHarms => 36,
        Motif::TrappedPiece => 53,
        Motif::Deflection => 54,
        Motif::Overload => 55,
        Motif::Opposition => 56,
        _ => return None,
    })
}

/// What of the board was seen, in words.
#[must_use]
pub fn sight_words(sight: BoardVisibility) -> &'static str {
    match sight {
        BoardVisibility::Root => tr!("board at the position"),
        BoardVisibility::Follow => tr!("board following the lines"),
        BoardVisibility::None => tr!("board hidden"),
    }
}

#[cfg(test)]
mod tests;
