//! How far evaluations were off, learnt as the search goes: positions that share the arrangement of their pawns, of one
//! side's pieces, or the last two moves are misjudged in the same direction.
//!
//! Common practice, no source.

use super::history::{TARGETS, Target};
use super::position::Position;

const SLOTS: usize = 16_384;
/// One centipawn. A correction of [`MOST`] still fits 16 bits.
const UNIT: i32 = 256;
/// None exceeds this many centipawns.
const MOST: i32 = 64;

/// Shares of the tables in what is added to an evaluation, in 256ths: each alone would learn nearly all of an error.
const PAWNS: i32 = 150;
const PIECES: i32 = 110;
const MOVES: i32 = 110;

/// The last move and the one before.
pub type Last = [Option<Target>; 2];

pub struct Corrections {
    /// By side to move and arrangement of pawns.
    pawns: Box<[[i16; SLOTS]; 2]>,
    /// By owner, side to move and arrangement of his pieces.
    pieces: [Box<[[i16; SLOTS]; 2]>; 2],
    /// By the move before the last, and the last one.
    moves: Box<[[i16; TARGETS]]>,
}

impl Default for Corrections {
    fn default() -> Corrections {
        let by_arrangement = || Box::new([[0; SLOTS]; 2]);
        Corrections {
            pawns: by_arrangement(),
            pieces: [by_arrangement(), by_arrangement()],
            moves: vec![[0; TARGETS]; TARGETS].into_boxed_slice(),
        }
    }
}

impl Corrections {
    pub fn clear(&mut self) {
        self.pawns.fill([0; SLOTS]);
        self.pieces
            .iter_mut()
            .for_each(|side| side.fill([0; SLOTS]));
        self.moves.fill([0; TARGETS]);
    }

    /// Centipawns to add to the evaluation.
    #[inline(always)]
    pub fn of(&self, p: &Position, last: Last) -> i32 {
        let mut sum = PAWNS * i32::from(self.pawns[p.turn][slot(p.pawn_key)]);
        for (side, table) in self.pieces.iter().enumerate() {
            sum += PIECES * i32::from(table[p.turn][slot(p.piece_keys[side])]);
        }
        if let [Some(last), Some(earlier)] = last {
            sum += MOVES * i32::from(self.moves[earlier][last]);
        }
        sum / (256 * UNIT)
    }

    /// Learns that a search to `depth` found `error` centipawns more than the evaluation said.
    pub fn learn(&mut self, p: &Position, last: Last, depth: i32, error: i32) {
        let weight = (depth + 1).min(16);
        let error = error.clamp(-256, 256);
        approach(&mut self.pawns[p.turn][slot(p.pawn_key)], error, weight);
        for (side, table) in self.pieces.iter_mut().enumerate() {
            approach(&mut table[p.turn][slot(p.piece_keys[side])], error, weight);
        }
        if let [Some(last), Some(earlier)] = last {
            approach(&mut self.moves[earlier][last], error, weight);
        }
    }
}

fn slot(key: u64) -> usize {
    key as usize % SLOTS
}

/// Moves a correction by so many 256ths of the way to the error.
fn approach(value: &mut i16, error: i32, weight: i32) {
    let moved = (i32::from(*value) * (256 - weight) + error * UNIT * weight) / 256;
    *value = moved.clamp(-UNIT * MOST, UNIT * MOST) as i16;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::bench;

    #[test]
    fn a_steady_error_is_learnt_and_bounded_and_forgotten() {
        let mut all = bench::positions();
        let (p, other) = (all.next().unwrap(), all.nth(3).unwrap());
        let mut corrections = Corrections::default();
        for (error, low, high) in [(30, 25, 60), (-30, -60, -25), (4_000, 100, 128)] {
            for _ in 0..400 {
                corrections.learn(&p, [Some(3), Some(70)], 8, error);
            }
            let learnt = corrections.of(&p, [Some(3), Some(70)]);
            assert!((low..=high).contains(&learnt), "{error}: {learnt}");
            // Without the moves the arrangements still tell, elsewhere the moves alone.
            assert!(corrections.of(&p, [None, None]).abs() > learnt.abs() / 2);
            let elsewhere = corrections.of(&other, [Some(3), Some(70)]).abs();
            assert!(elsewhere > 0 && elsewhere < learnt.abs() / 2);
        }
        assert_eq!(corrections.of(&other, [None, Some(70)]), 0);
        corrections.clear();
        assert_eq!(corrections.of(&p, [Some(3), Some(70)]), 0);
    }
}
