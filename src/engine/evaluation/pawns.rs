//! Pawn structure, remembered per arrangement of pawns and kings, and passed pawns.

use shakmaty::{Bitboard, Square};

use super::king::count_shelter;
use super::pieces::{enemy_reach, file_of, fill_forward, pawn_origins, pawn_set_attacks};
use super::{Board, Sink, Sum};
use crate::engine::generate::forward;
use crate::engine::position::{Position, pawn_attacks};
use crate::engine::terms::*;
use crate::engine::types::*;

/// What an arrangement of pawns and kings is worth, and its passed pawns.
#[derive(Clone, Copy, Default)]
pub struct Facts {
    key: u64,
    pub score: Score,
    pub passed: Bitboard,
}

impl Facts {
    /// Facts whose terms went to `sink` instead of into the score.
    pub fn traced(p: &Position, sink: &mut impl Sink) -> Facts {
        Facts {
            passed: count_structure(p, sink),
            ..Facts::default()
        }
    }
}

/// Remembers facts by key. Values depend on the position alone, so it is never cleared.
pub struct PawnTable(Box<[Facts]>);

const SLOTS: usize = 8192;

impl Default for PawnTable {
    fn default() -> PawnTable {
        PawnTable(vec![Facts::default(); SLOTS].into_boxed_slice())
    }
}

impl PawnTable {
    pub fn facts(&mut self, p: &Position) -> &Facts {
        let slot = &mut self.0[p.pawn_key as usize % SLOTS];
        if slot.key != p.pawn_key {
            let mut sum = Sum::default();
            let passed = count_structure(p, &mut sum);
            *slot = Facts {
                key: p.pawn_key,
                score: sum.score,
                passed,
            };
        }
        slot
    }
}

/// Counts all terms that depend on pawns and kings alone; gives the passed pawns of both sides.
pub fn count_structure(p: &Position, sink: &mut impl Sink) -> Bitboard {
    let mut passed = Bitboard::EMPTY;
    for colour in [WHITE, BLACK] {
        passed |= count_pawns(p, colour, sink);
        count_shelter(p, colour, sink);
    }
    passed
}

fn neighbours(file: Bitboard) -> Bitboard {
    Bitboard((file.0 & !0x8080_8080_8080_8080) << 1 | (file.0 & !0x0101_0101_0101_0101) >> 1)
}

fn count_pawns(p: &Position, colour: Colour, sink: &mut impl Sink) -> Bitboard {
    let (own, enemy) = (p.men(colour, PAWN), p.men(colour ^ 1, PAWN));
    let (left, right) = pawn_set_attacks(colour, own);
    let (their_left, their_right) = pawn_set_attacks(colour ^ 1, enemy);
    let covered = left | right;
    let hostile = their_left | their_right;
    let own_reach = enemy_reach(colour, own);
    let mut passed = Bitboard::EMPTY;
    for pawn in own {
        let bit = Bitboard::from_square(pawn);
        let rank = relative_rank(colour, pawn);
        let file = file_of(pawn);
        let ahead = fill_forward(colour, bit);
        let half_open = (ahead & enemy).is_empty();
        let friends = own & neighbours(file);
        let phalanx = (friends & neighbours(bit)).any();
        let step = forward(colour, bit);
        if (ahead & own).any() {
            sink.add(colour, PAWN_DOUBLED, 1);
        }
        if friends.is_empty() {
            sink.add(colour, PAWN_ISOLATED + usize::from(half_open), 1);
        } else if (step & !own_reach).any() && !phalanx && (step & (hostile | enemy)).any() {
            sink.add(colour, PAWN_BACKWARD + usize::from(half_open), 1);
        }
        if phalanx {
            sink.add(colour, PAWN_PHALANX + rank, 1);
        }
        if covered.contains(pawn) {
            sink.add(colour, PAWN_COVERED + rank, 1);
        }
        if (ahead & own).is_empty() && half_open {
            if ((ahead | neighbours(ahead)) & enemy).is_empty() {
                passed |= bit;
            } else {
                let helpers = (pawn_origins(colour, square_of(step)) & own).count()
                    + (neighbours(bit) & own).count();
                let against = (pawn_attacks(colour, square_of(step)) & enemy).count();
                if helpers >= against.max(1) {
                    sink.add(colour, PAWN_CANDIDATE + rank, 1);
                }
            }
        }
    }
    passed
}

fn square_of(set: Bitboard) -> Square {
    set.first().unwrap_or(Square::A1)
}

/// Passed pawns of `colour`, with what stands around them.
pub fn count_passed(board: &Board, facts: &Facts, colour: Colour, sink: &mut impl Sink) {
    let p = board.p;
    let them = colour ^ 1;
    for pawn in facts.passed & p.side(colour) {
        let bit = Bitboard::from_square(pawn);
        let rank = relative_rank(colour, pawn);
        let next = forward(colour, bit);
        let ahead = fill_forward(colour, bit);
        sink.add(colour, PASSED + rank, 1);
        if board.by[colour][PAWN].contains(pawn) {
            sink.add(colour, PASSED_COVERED + rank, 1);
        }
        let behind = fill_forward(them, bit) & file_of(pawn);
        if (behind & p.men(colour, ROOK)).any() {
            sink.add(colour, PASSED_ROOK_BEHIND, 1);
        }
        if (behind & p.men(them, ROOK)).any() {
            sink.add(colour, PASSED_ROOK_AGAINST, 1);
        }
        if (next & p.side(them)).any() {
            sink.add(colour, PASSED_BLOCKED + rank, 1);
        } else {
            if (ahead & (board.all[them] | p.side(them))).is_empty() {
                sink.add(colour, PASSED_FREE + rank, 1);
            }
            if (next & board.occupied).is_empty()
                && (next & board.all[them] & !board.all[colour]).is_empty()
            {
                sink.add(colour, PASSED_CAN_STEP + rank, 1);
            }
        }
        if rank >= 3 {
            let goal = square_of(next);
            sink.add(
                colour,
                PASSED_OWN_KING + goal.distance(p.king(colour)) as usize,
                1,
            );
            sink.add(
                colour,
                PASSED_ENEMY_KING + goal.distance(p.king(them)) as usize,
                1,
            );
        }
        count_race(p, pawn, colour, ahead, sink);
    }
}

/// The rule of the square: a king that cannot enter it is outrun (textbook knowledge).
fn count_race(p: &Position, pawn: Square, colour: Colour, ahead: Bitboard, sink: &mut impl Sink) {
    let them = colour ^ 1;
    if p.has_pieces(them) || (ahead & p.side(colour)).any() {
        return;
    }
    let goal = square((at(pawn) & 7) + if colour == WHITE { 56 } else { 0 });
    let steps = (7 - relative_rank(colour, pawn)).min(5) as u32;
    let first = u32::from(p.turn == them);
    if p.king(them).distance(goal) > steps + first {
        sink.add(colour, PASSED_OUTRUNS, 1);
    }
}
