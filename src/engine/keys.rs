//! Random numbers that identify positions.
//!
//! Hashing by exclusive or of one random number per feature: A. L. Zobrist, "A New Hashing Method
//! with Application for Game Playing", University of Wisconsin, Technical Report 88, 1970.
//! The numbers come from the splitmix generator (G. L. Steele, D. Lea, C. H. Flood, "Fast
//! Splittable Pseudorandom Number Generators", 2014), so they are the same in every build.

/// One number per piece (kind plus eight times colour) and square.
pub static PIECES: [[u64; 64]; 16] = pieces();
/// One number per set of castling rights.
pub static CASTLING: [u64; 16] = row::<16>(0x1000);
/// One number per file of a possible en passant capture.
pub static EN_PASSANT: [u64; 8] = row::<8>(0x2000);
/// Black to move.
pub const TURN: u64 = mix(0x3000);

/// The `n`-th output of splitmix started at zero.
pub const fn mix(n: u64) -> u64 {
    let mut z = n.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    z = (z ^ z >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ z >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ z >> 31
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
