//! Playing below full strength, for opponents that a club player can beat (UCI_LimitStrength,
//! UCI_Elo).
//!
//! Three handles, all turned by one number: fewer nodes (he sees less far), noise on every evaluation
//! (he misjudges), and a choice among the best moves within a margin (he does not always play what he
//! found). Chance comes from the position and a seed alone, so that a weak opponent is as repeatable
//! as a strong one. Handicap by noise and by a choice among near-best moves is common practice, no
//! source.
//!
//! The scale is the engine's own. Levels 300 points apart, 100 games each from random openings, scored
//! 84.5, 88.0, 89.5, 85.5, 87.0 and 87.0 % from 600-900 up to 2100-2400; the rating formula says 84.9 %
//! (A. Elo, "The Rating of Chessplayers, Past and Present", 1978). It was never measured against rated
//! people: the number orders levels and spaces them, and is nobody's rating.

use super::keys::mix;
use super::types::*;
use super::worker::RootMove;

/// Least and greatest level, in the points of `UCI_Elo`.
pub const RANGE: (usize, usize) = (600, 2400);

/// Nodes, evaluation noise and choice margin (centipawns) at some levels; between them nodes grow
/// geometrically and the others linearly.
const LEVELS: [(i32, f64, f64, f64); 7] = [
    (600, 24.0, 420.0, 420.0),
    (900, 57.0, 244.0, 242.0),
    (1200, 176.0, 148.0, 135.0),
    (1500, 400.0, 105.0, 85.0),
    (1800, 850.0, 78.0, 58.0),
    (2100, 1_800.0, 53.0, 36.0),
    (2400, 4_000.0, 15.0, 8.0),
];

/// How many of the best moves the choice is among.
pub const CANDIDATES: usize = 4;

/// What a level does to a search.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Handicap {
    /// No move is thought about for longer.
    pub nodes: u64,
    /// Evaluations are off by at most this many centipawns, mostly by less than half.
    pub noise: i32,
    /// Moves that look worse than the best by less than this may be played.
    pub margin: i32,
    pub seed: u64,
}

impl Handicap {
    /// The handicap of a level; levels out of range count as the nearest.
    pub fn of(level: usize, seed: u64) -> Handicap {
        let level = level.clamp(RANGE.0, RANGE.1) as i32;
        let (low, high) = LEVELS
            .windows(2)
            .map(|w| (w[0], w[1]))
            .find(|(_, high)| level <= high.0)
            .unwrap_or((LEVELS[0], LEVELS[0]));
        let share = f64::from(level - low.0) / f64::from((high.0 - low.0).max(1));
        let between = |a: f64, b: f64| a + (b - a) * share;
        Handicap {
            nodes: (low.1 * (high.1 / low.1).powf(share)).round() as u64,
            noise: between(low.2, high.2).round() as i32,
            margin: between(low.3, high.3).round() as i32,
            seed: mix(seed),
        }
    }

    /// How many of the best moves have to be known.
    pub fn candidates(&self) -> usize {
        if self.margin > 0 { CANDIDATES } else { 1 }
    }

    /// The move played among those found, best first: its index. A move that allows mate is not taken
    /// for one that does not, nor is a found mate passed over.
    pub fn choose(&self, key: u64, found: &[RootMove]) -> usize {
        let Some(best) = found.first() else { return 0 };
        let top = best.value();
        if top.abs() >= MATE_BOUND {
            return 0;
        }
        let liking = |(i, root): (usize, &RootMove)| {
            let number = mix(key ^ self.seed ^ u64::from(root.mv.bits()));
            (root.value() + triangular(number, self.margin) / 2, i)
        };
        let open = |root: &&RootMove| top - root.value() < self.margin.max(1);
        found
            .iter()
            .take(self.candidates())
            .take_while(open)
            .enumerate()
            .map(liking)
            .max_by_key(|(value, i)| (*value, std::cmp::Reverse(*i)))
            .map_or(0, |(_, i)| i)
    }
}

/// A number from minus to plus `most`, the nearer to zero the likelier, made from random bits.
pub fn triangular(bits: u64, most: i32) -> i32 {
    let sum = (bits & 0xffff) as i64 + (bits >> 16 & 0xffff) as i64 - 0xffff;
    (sum * i64::from(most) / 0xffff) as i32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_level_is_weaker_than_the_next() {
        let all: Vec<Handicap> = (RANGE.0..=RANGE.1)
            .step_by(25)
            .map(|l| Handicap::of(l, 0))
            .collect();
        for pair in all.windows(2) {
            assert!(pair[0].nodes <= pair[1].nodes && pair[0].noise >= pair[1].noise);
            assert!(pair[0].margin >= pair[1].margin && pair[0] != pair[1]);
        }
        assert_eq!(Handicap::of(0, 1), Handicap::of(RANGE.0, 1));
        assert_eq!(Handicap::of(9999, 1), Handicap::of(RANGE.1, 1));
    }

    #[test]
    fn noise_is_level_and_bounded() {
        let values: Vec<i32> = (0..20_000).map(|n| triangular(mix(n), 300)).collect();
        let mean = values.iter().sum::<i32>() / values.len() as i32;
        assert!(mean.abs() < 5 && values.iter().all(|v| v.abs() <= 300));
        let small = values.iter().filter(|v| v.abs() < 150).count();
        // Three quarters of a triangular distribution lie within half its width.
        assert!((14_700..15_300).contains(&small), "{small}");
    }

    #[test]
    fn chooses_within_the_margin_and_keeps_mates() {
        let root = |bits, score| RootMove {
            score,
            ..RootMove::new(Move::from_bits(bits))
        };
        let found = [root(1, 50), root(2, 30), root(3, -400)];
        let handicap = |seed| Handicap::of(1200, seed);
        let mut seen = [0; 3];
        for seed in 0..500 {
            seen[handicap(seed).choose(77, &found)] += 1;
        }
        assert!(seen[0] > seen[1] && seen[1] > 0 && seen[2] == 0, "{seen:?}");
        let mates = [root(1, MATE - 3), root(2, 30)];
        assert!((0..200).all(|seed| handicap(seed).choose(5, &mates) == 0));
    }
}
