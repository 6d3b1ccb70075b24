//! The chance that passed: a move that was good for several moves in a row, was never played, and was gone.
//!
//! # Definition
//! At two or more turns of the player in a row the same move (the same piece from the same square to the same square) was
//! the best one or within .03 of it, and was not played. At the turn after that it is no longer possible or no longer as
//! good, and by then the expected score is .10 or more below what it was while the chance was there. What took it away is
//! what was played in between, his own move and the reply. Moves that were asked about are the best three of each turn, so
//! a chance behind three better ones is not seen. Thresholds: common practice, no source.

use serde::Serialize;
use shakmaty::{Move, Position};

use crate::board::line;
use crate::games::survey::{EQUAL, Surveyed};

/// Turns in a row at which the move was there.
pub const TURNS: usize = 2;
/// What the expected score must have fallen by when it was gone.
pub const GONE: f64 = 0.10;
/// Best expected score from which on a chance is one: who stands lost has none.
pub const ALIVE: f64 = 0.40;

/// One chance.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct PassedChance {
    /// The move in SAN as it was at first.
    pub chance: String,
    /// His half-moves at which it was there, the first and the last.
    pub from: usize,
    pub until: usize,
    /// At how many of his turns.
    pub turns: usize,
    /// What he played at the last of them and what came then, in SAN.
    pub played: String,
    pub reply: Option<String>,
    /// His expected score with the move at the last turn, and at the turn after.
    pub with: f64,
    pub then: f64,
    pub kind: ChanceKind,
}

/// What kind of move it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ChanceKind {
    PawnBreak,
    /// A man to take.
    Taking,
    Exchange,
    Quiet,
}

impl ChanceKind {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::PawnBreak => tr!("a pawn move"),
            Self::Taking => tr!("something to take"),
            Self::Exchange => tr!("an exchange"),
            Self::Quiet => tr!("a move"),
        }
    }
}

/// The chances of a game, in its order; of one turn only the longest.
#[must_use]
pub fn passed(surveyed: &Surveyed) -> Vec<PassedChance> {
    let game = &surveyed.game;
    let own: Vec<usize> = (0..surveyed.plies.len())
        .filter(|p| game.is_his(*p))
        .collect();
    let mut found: Vec<PassedChance> = Vec::new();
    for (at, ply) in own.iter().enumerate() {
        for mv in good(surveyed, *ply) {
            // Only where it begins here.
            let before = at.checked_sub(1).and_then(|b| own.get(b));
            if before.is_some_and(|b| has(surveyed, *b, &mv)) {
                continue;
            }
            let rest = own.get(at..).unwrap_or_default();
            let turns = rest.iter().take_while(|p| has(surveyed, **p, &mv)).count();
            let chance = chance(surveyed, rest, turns, &mv);
            if let Some(chance) = chance {
                found.push(chance);
            }
        }
    }
    found.sort_by(|a, b| (a.until, b.turns).cmp(&(b.until, a.turns)));
    found.dedup_by_key(|c| c.until);
    found
}

/// The moves that were as good as the best at a half-move.
fn good(surveyed: &Surveyed, ply: usize) -> Vec<Move> {
    let Some(scored) = surveyed.plies.get(ply) else {
        return Vec::new();
    };
    let near = scored
        .best
        .iter()
        .filter(|l| scored.before - l.expected <= EQUAL);
    near.filter_map(|l| l.line.first().cloned()).collect()
}

/// The move was there, good, and not played.
fn has(surveyed: &Surveyed, ply: usize, mv: &Move) -> bool {
    let same = |other: &Move| same(other, mv);
    let played = surveyed.game.game.main_moves.get(ply);
    let alive = surveyed.plies.get(ply).is_some_and(|p| p.before >= ALIVE);
    alive && !played.is_some_and(same) && good(surveyed, ply).iter().any(same)
}

fn same(a: &Move, b: &Move) -> bool {
    (a.role(), a.from(), a.to(), a.promotion()) == (b.role(), b.from(), b.to(), b.promotion())
}

fn chance(surveyed: &Surveyed, rest: &[usize], turns: usize, mv: &Move) -> Option<PassedChance> {
    if turns < TURNS {
        return None;
    }
    let (first, last) = (*rest.first()?, *rest.get(turns - 1)?);
    let next = *rest.get(turns)?;
    // He played it at last: nothing passed.
    let then = surveyed.plies.get(next)?;
    let played_now = surveyed.game.game.main_moves.get(next);
    if played_now.is_some_and(|m| same(m, mv)) {
        return None;
    }
    let with = surveyed.plies.get(last)?.best.iter();
    let with = with.filter(|l| l.line.first().is_some_and(|m| same(m, mv)));
    let with = with.map(|l| l.expected).next()?;
    if with - then.before < GONE {
        return None;
    }
    let san = |ply: usize| surveyed.sans(ply).0;
    let here = surveyed.game.line_to(first);
    Some(PassedChance {
        chance: line::san(here.position(), mv),
        from: first,
        until: last,
        turns,
        played: san(last),
        reply: Some(san(last + 1)).filter(|s| !s.is_empty()),
        with,
        then: then.before,
        kind: kind(here.position(), mv),
    })
}

fn kind(pos: &shakmaty::Chess, mv: &Move) -> ChanceKind {
    use crate::board::exchange::{after_move, value};
    match (mv.capture(), mv.role()) {
        (Some(taken), role) if value(taken) == value(role) && after_move(pos, mv) <= 0 => {
            ChanceKind::Exchange
        }
        (Some(_), _) => ChanceKind::Taking,
        (None, shakmaty::Role::Pawn) if meets_pawn(pos, mv) => ChanceKind::PawnBreak,
        _ => ChanceKind::Quiet,
    }
}

/// A pawn that attacks a pawn, or can be taken by one: what the trade calls a break.
fn meets_pawn(pos: &shakmaty::Chess, mv: &Move) -> bool {
    let (turn, board) = (pos.turn(), pos.board());
    let theirs = board.pawns() & board.by_color(turn.other());
    (shakmaty::attacks::pawn_attacks(turn, mv.to()) & theirs).any()
}
