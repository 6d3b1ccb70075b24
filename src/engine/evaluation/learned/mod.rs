//! What a position is worth by a small network that was learnt from games of the engine against itself.
//!
//! Takes a [`Position`] and its ply, gives centipawns for the side to move. Each side sees the board
//! as 768 inputs, a man of its own or of the other side by kind and square: ranks turned round for
//! Black, files mirrored when its own king stands on files e to h. One hidden layer is shared by both
//! views; its sums are clamped and squared. The side to move comes first, and one of eight rows of
//! output weights is taken by the number of men. Whole numbers throughout ([`net`] says which), so
//! that every machine gives the same value.
//!
//! The hidden layer is kept up to date rather than computed (`sums`): Y. Nasu, "Efficiently Updatable
//! Neural-Network-based Evaluation Functions for Computer Shogi", 2018 (from memory). Whole numbers in
//! the place of real ones: B. Jacob et al., "Quantization and Training of Neural Networks for
//! Efficient Integer-Arithmetic-Only Inference", CVPR 2018 (from memory). Mirroring by the king, rows
//! by the number of men and the squared clamp are common practice, no source.
//!
//! `tests/bench/train.py` makes `net.bin`; `tests/bench/RESULTS.md` has its recipe and what it won.

mod net;
mod sums;
#[cfg(test)]
mod tests;

use crate::engine::position::Position;
use crate::engine::types::*;
use net::{NET, Net, QA, QB, Row, SCALE};
use sums::Sums;
use wide::{i16x8, i32x4};

/// The network with the sums of one search. All its memory is taken when it is made.
pub struct Learned(Sums);

impl Default for Learned {
    fn default() -> Learned {
        Learned(Sums::new(&NET, MAX_PLY + 8))
    }
}

impl Learned {
    /// Notes which position the search has reached at a ply.
    #[inline]
    pub fn reach(&mut self, p: &Position, ply: usize) {
        self.0.reach(ply, p.board());
    }

    /// Centipawns for the side to move, by the network alone.
    #[inline(always)]
    pub fn evaluate(&mut self, p: &Position, ply: usize) -> i32 {
        let net = self.0.net;
        let sums = self.0.of(ply, p.board());
        net.output(p, &sums[p.turn], &sums[p.turn ^ 1])
    }
}

impl Net {
    #[inline(always)]
    fn output(&self, p: &Position, own: &Row, other: &Row) -> i32 {
        let group = net::group(p.occupied().count());
        let [to_move, waiting] = &self.output[group];
        let sum = (dot(own, to_move) + dot(other, waiting)) / QA + self.output_bias[group];
        (i64::from(sum) * i64::from(SCALE) / i64::from(QA * QB)) as i32
    }
}

/// Clamped and squared sums times weights. The first product fits 16 bits, see [`net`].
#[inline(always)]
fn dot(sums: &Row, weights: &Row) -> i32 {
    let mut total = i32x4::ZERO;
    for (sum, weight) in sums.0.iter().zip(&weights.0) {
        let h = sum.max(i16x8::ZERO).min(i16x8::splat(QA as i16));
        total += (h * *weight).dot(h);
    }
    total.to_array().iter().sum()
}
