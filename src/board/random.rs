//! Numbers without a pattern that are the same in every run: SplitMix64 (G. L. Steele, D. Lea and C. H. Flood, Fast
//! Splittable Pseudorandom Number Generators, OOPSLA 2014).
//!
//! The one generator of the program. It is a constant function because the engine makes its keys when it is compiled, which
//! no library offers.

/// What is added at each step: the odd number nearest to 2^64 divided by the golden ratio.
pub const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

/// The generator's finalizer: spreads every bit of a number over all of them.
#[must_use]
pub const fn scattered(z: u64) -> u64 {
    let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// The number that follows the state `n`.
#[must_use]
pub const fn after(n: u64) -> u64 {
    scattered(n.wrapping_add(STEP))
}

/// A sequence of numbers from a seed.
#[derive(Debug, Clone)]
pub struct SplitMix(pub u64);

impl SplitMix {
    /// The next number.
    pub fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(STEP);
        scattered(self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first outputs from the seed 1234567, as the public reference program of S. Vigna (2015) prints them (from
    /// memory).
    #[test]
    fn the_published_sequence() {
        let mut numbers = SplitMix(1_234_567);
        let first: Vec<u64> = (0..3).map(|_| numbers.roll()).collect();
        let published = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
        ];
        assert_eq!(first, published);
        assert_eq!(after(1_234_567), published[0]);
    }
}
