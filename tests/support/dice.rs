//! Numbers without pattern, for tests that make their own input.

/// From a seed (the multiplier of Knuth's MMIX, from memory).
pub struct Dice(pub u64);

impl Dice {
    /// From 0 up to, but without, `sides`.
    pub fn roll(&mut self, sides: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % sides
    }

    pub fn one<'a>(&mut self, of: &[&'a str]) -> &'a str {
        of[self.roll(of.len())]
    }
}
