//! What past cut-offs say about moves: the memory that orders quiet moves and captures.
//!
//! Killers: S. Akl and M. Newborn, "The Principal Continuation and the Killer Heuristic", 1977.
//! History: J. Schaeffer, "The History Heuristic", ICCA Journal 6(3), 1983. Counter moves:
//! J. Uiterwijk, "The Countermove Heuristic", ICCA Journal 15(1), 1992. Continuation history (the
//! same counted per preceding move) and the update that ages itself are common practice, no source.
//! Corrections learn how far the evaluation was off for an arrangement of pawns: common practice, no
//! source.

use super::position::Position;
use super::types::*;

/// Bound of every history value.
pub const LIMIT: i32 = 16_384;
/// Index of a piece and a square: the "what and where" of a move.
const TARGETS: usize = 14 * 64;

/// Slots for corrections of the evaluation.
const CORRECTIONS: usize = 16_384;
/// A correction is kept in 256ths of a centipawn and never exceeds this many centipawns.
const MOST_CORRECTION: i32 = 64;

/// What a move did, for tables that are indexed by it: piece and square of arrival.
pub type Target = usize;
/// No move, or one that passed.
pub const NO_TARGET: Target = TARGETS;

#[inline]
pub fn target(man: Piece, m: Move) -> Target {
    usize::from(man) << 6 | at(m.to())
}

pub struct History {
    quiet: Box<[[i16; 4096]; 2]>,
    capture: Box<[[i16; 8]; TARGETS]>,
    /// Row: an earlier move; column: the move in question. The last row stands for "no earlier move" and
    /// stays zero.
    continuation: Box<[[i16; TARGETS]]>,
    counter: Box<[Move; TARGETS + 1]>,
    killers: [[Move; 2]; MAX_PLY + 4],
    /// By side to move and arrangement of pawns: how far evaluations were off, in 256ths.
    correction: Box<[[i32; CORRECTIONS]; 2]>,
}

/// The parts of history that bear on the quiet moves of one node, looked up once.
pub struct Rater<'a> {
    quiet: &'a [i16; 4096],
    rows: [&'a [i16; TARGETS]; 3],
}

impl Rater<'_> {
    #[inline]
    pub fn value(&self, p: &Position, m: Move) -> i32 {
        let column = target(p.on(m.from()), m);
        let past = self.rows.iter().map(|row| i32::from(row[column]));
        i32::from(self.quiet[m.path()]) + past.sum::<i32>()
    }
}

/// Moves a value towards the bonus, the more slowly the nearer it is to its bound.
fn update(value: &mut i16, bonus: i32) {
    let old = i32::from(*value);
    *value = (old + bonus - old * bonus.abs() / LIMIT) as i16;
}

impl Default for History {
    fn default() -> History {
        History {
            quiet: Box::new([[0; 4096]; 2]),
            capture: Box::new([[0; 8]; TARGETS]),
            continuation: vec![[0; TARGETS]; TARGETS + 1].into_boxed_slice(),
            counter: Box::new([Move::NONE; TARGETS + 1]),
            killers: [[Move::NONE; 2]; MAX_PLY + 4],
            correction: Box::new([[0; CORRECTIONS]; 2]),
        }
    }
}

impl History {
    pub fn clear(&mut self) {
        self.quiet.iter_mut().for_each(|side| side.fill(0));
        self.capture.fill([0; 8]);
        self.continuation.fill([0; TARGETS]);
        self.counter.fill(Move::NONE);
        self.correction.fill([0; CORRECTIONS]);
        self.forget_killers();
    }

    pub fn forget_killers(&mut self) {
        self.killers.fill([Move::NONE; 2]);
    }

    pub fn killers(&self, ply: usize) -> [Move; 2] {
        self.killers[ply]
    }

    pub fn clear_killers(&mut self, ply: usize) {
        self.killers[ply] = [Move::NONE; 2];
    }

    pub fn counter(&self, previous: Target) -> Move {
        self.counter[previous]
    }

    pub fn quiet(&self, p: &Position, m: Move, before: &[Target; 3]) -> i32 {
        self.rater(p, before).value(p, m)
    }

    /// What values the quiet moves of one node.
    pub fn rater(&self, p: &Position, before: &[Target; 3]) -> Rater<'_> {
        Rater {
            quiet: &self.quiet[p.turn],
            rows: before.map(|row| &self.continuation[row]),
        }
    }

    pub fn capture(&self, p: &Position, m: Move) -> i32 {
        i32::from(self.capture[target(p.on(m.from()), m)][kind_of(p.taken(m)) & 7])
    }

    pub fn reward_quiet(&mut self, p: &Position, m: Move, before: &[Target; 3], bonus: i32) {
        let column = target(p.on(m.from()), m);
        update(&mut self.quiet[p.turn][m.path()], bonus);
        for &row in before {
            if row != NO_TARGET {
                update(&mut self.continuation[row][column], bonus);
            }
        }
    }

    pub fn reward_capture(&mut self, p: &Position, m: Move, bonus: i32) {
        update(
            &mut self.capture[target(p.on(m.from()), m)][kind_of(p.taken(m)) & 7],
            bonus,
        );
    }

    /// Centipawns to add to the evaluation of positions with these pawns.
    pub fn correction(&self, p: &Position) -> i32 {
        self.correction[p.turn][p.pawn_key as usize % CORRECTIONS] / 256
    }

    /// Learns that a search to `depth` found `error` centipawns more than the evaluation said.
    pub fn correct(&mut self, p: &Position, depth: i32, error: i32) {
        let slot = &mut self.correction[p.turn][p.pawn_key as usize % CORRECTIONS];
        let weight = (depth + 1).min(16);
        let moved = (*slot * (256 - weight) + error.clamp(-256, 256) * 256 * weight) / 256;
        *slot = moved.clamp(-256 * MOST_CORRECTION, 256 * MOST_CORRECTION);
    }

    pub fn note_cutoff(&mut self, ply: usize, previous: Target, m: Move) {
        let slot = &mut self.killers[ply];
        if slot[0] != m {
            *slot = [m, slot[0]];
        }
        if previous != NO_TARGET {
            self.counter[previous] = m;
        }
    }
}
