//! Random numbers that identify positions.
//!
//! Hashing by exclusive or of one random number per feature: A. L. Zobrist, "A New Hashing Method
//! with Application for Game Playing", University of Wisconsin, Technical Report 88, 1970.
//! The numbers come from the program's one generator, so they are the same in every build.

use crate::board::random::{STEP, scattered};

/// One number per piece (kind plus eight times colour) and square.
pub static PIECES: [[u64; 64]; 16] = pieces();
/// One number per set of castling rights.
pub static CASTLING: [u64; 16] = row::<16>(0x1000);
/// One number per file of a possible en passant capture.
pub static EN_PASSANT: [u64; 8] = row::<8>(0x2000);
/// Black to move.
pub const TURN: u64 = mix(0x3000);

/// The `n`-th output of the generator started at zero.
pub const fn mix(n: u64) -> u64 {
    scattered(n.wrapping_add(1).wrapping_mul(STEP))
}

const fn row<const N: usize>(start: u64) -> [u64; N] {
    let mut keys = [0; N];
    let mut i = 0;
    while i < N {
        keys[i] = mix(start + i as u64);
        i += 1;
    }
    keys
}

const fn pieces() -> [[u64; 64]; 16] {
    let mut keys = [[0; 64]; 16];
    let mut p = 0;
    while p < 16 {
        keys[p] = row::<64>(0x4000 + 64 * p as u64);
        p += 1;
    }
    keys
}
