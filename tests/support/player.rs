//! Invented players whose weaknesses are known, for tests and for the bench.
//!
//! The moments look like those of real trees: four to nine an attempt, half of them the opponent's,
//! most near the root. Attempts differ: each has an ease of its own that all of its trials share, so the
//! trials of one attempt are not independent. That is what the counting must withstand.

use std::ops::RangeInclusive;

use foreply::board::random::SplitMix;
use foreply::progress::count::Tally;
use foreply::progress::spots::{State, from_tally};
use foreply::progress::stats::Rate;
use foreply::progress::{Bits, Feature};

/// Chances, from a seed.
pub struct Dice(pub u64);

impl Dice {
    pub fn roll(&mut self) -> u64 {
        let mut numbers = SplitMix(self.0);
        let rolled = numbers.roll();
        self.0 = numbers.0;
        rolled
    }

    /// From 0 up to, but without, 1.
    pub fn share(&mut self) -> f64 {
        (self.roll() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn chance(&mut self, p: f64) -> bool {
        self.share() < p
    }

    /// Sum of twelve, less six: near enough to a standard normal.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.share()).sum::<f64>() - 6.0
    }
}

fn feature(name: &str) -> Feature {
    Feature::named(name).unwrap()
}

/// A player: his weaknesses, each with how much more often he misses such a move.
#[derive(Default, Clone)]
pub struct Player {
    pub weak: Vec<(&'static str, f64)>,
}

/// Moments of an attempt.
pub const MOMENTS: RangeInclusive<u64> = 4..=9;

/// Motifs and pieces with how often each stands in a moment.
const OFTEN: [(&str, f64); 14] = [
    ("backward-moves", 0.20),
    ("sideways-moves", 0.15),
    ("long-moves", 0.20),
    ("double-attacks", 0.15),
    ("discovered-attacks", 0.05),
    ("pins-used", 0.08),
    ("pins-made", 0.06),
    ("interpositions", 0.03),
    ("in-between-moves", 0.05),
    ("counter-threats", 0.05),
    ("desperados", 0.02),
    ("switchbacks", 0.02),
    ("underpromotions", 0.01),
    ("mates", 0.05),
];
const CLASSES: [(&str, f64); 5] = [
    ("checks", 0.25),
    ("captures", 0.35),
    ("threats-of-mate", 0.05),
    ("threats", 0.15),
    ("quiet-moves", 0.20),
];
const PIECES: [&str; 6] = [
    "pawn-moves",
    "knight-moves",
    "bishop-moves",
    "rook-moves",
    "queen-moves",
    "king-moves",
];
const PHASES: [&str; 3] = ["openings", "middlegames", "endings"];
const STANDINGS: [&str; 3] = ["when-winning", "when-level", "when-worse"];
const DEPTHS: [&str; 4] = [
    "half-moves-1-2",
    "half-moves-3-4",
    "half-moves-5-6",
    "half-moves-7-on",
];

/// What one attempt asks, and what of it the player sees.
fn attempt(player: &Player, dice: &mut Dice) -> Vec<Bits> {
    let ease = 0.10 * dice.normal();
    let circumstances = [
        PHASES[(dice.roll() % 3) as usize],
        STANDINGS[(dice.roll() % 3) as usize],
    ];
    let count = MOMENTS.start() + dice.roll() % (MOMENTS.end() - MOMENTS.start() + 1);
    // From here on he is short of time.
    let late = 1 + dice.roll() % 9;
    let clock = |i| {
        if i >= late {
            "little-time"
        } else {
            "time-left"
        }
    };
    (0..count)
        .map(|i| {
            let around = [circumstances[0], circumstances[1], clock(i)];
            trial(player, dice, ease, i, &around)
        })
        .collect()
}

fn trial(
    player: &Player,
    dice: &mut Dice,
    ease: f64,
    i: u64,
    circumstances: &[&'static str],
) -> Bits {
    let depth = (i / 2).min(3) as usize;
    let own = i.is_multiple_of(2);
    let mut names = vec![if own { "own-moves" } else { "replies" }, DEPTHS[depth]];
    names.extend_from_slice(circumstances);
    let mut left = dice.share();
    let class = CLASSES.iter().find(|(_, p)| {
        left -= p;
        left < 0.0
    });
    let class = class.unwrap_or(&CLASSES[4]).0;
    names.push(class);
    names.push(PIECES[(dice.roll() % 6) as usize]);
    names.extend(
        OFTEN
            .iter()
            .filter(|(_, p)| dice.chance(*p))
            .map(|(n, _)| *n),
    );
    if dice.chance(0.12) {
        names.push(if own {
            "own-sacrifices"
        } else {
            "replies-that-give-up"
        });
    }
    // Deep and quiet moves are missed more often by everybody: the strata must take that away.
    let base = 0.15 + 0.08 * depth as f64 + if class == "quiet-moves" { 0.15 } else { 0.0 };
    let weak = player
        .weak
        .iter()
        .filter(|(n, _)| names.contains(n))
        .map(|(_, more)| more);
    let missed = (base + ease + weak.sum::<f64>()).clamp(0.02, 0.95);
    let features: Vec<Feature> = names.into_iter().map(feature).collect();
    let missed = dice.chance(missed);
    Bits::with(&features, !missed)
}

fn named(tally: &Tally) -> Vec<&'static str> {
    let spots = from_tally(tally)
        .into_iter()
        .filter(|s| s.state == State::Found);
    spots.map(|s| s.feature.name()).collect()
}

/// What is named after each number of attempts, in one run.
pub fn course(player: &Player, after: &[usize], seed: u64) -> Vec<Vec<&'static str>> {
    let mut dice = Dice(seed);
    let (mut tally, mut done) = (Tally::default(), 0);
    let mut course = Vec::new();
    for stop in after {
        for _ in done..*stop {
            tally.add(&attempt(player, &mut dice));
        }
        done = *stop;
        course.push(named(&tally));
    }
    course
}

/// In how many runs `weak` is named after each number of attempts, and how many others on average.
pub fn found(player: &Player, weak: &str, after: &[usize], runs: u64) -> Vec<(Rate, f64)> {
    let mut rates = vec![(Rate::default(), 0.0); after.len()];
    for run in 0..runs {
        for (sum, named) in rates.iter_mut().zip(course(player, after, 1000 + run)) {
            sum.0.add(named.contains(&weak));
            let others = named.iter().filter(|n| **n != weak).count();
            sum.1 += others as f64 / runs as f64;
        }
    }
    rates
}
