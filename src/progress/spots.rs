//! Blind spots: what this player misses more often than his other moves of the same kind.
//!
//! A property is *asked about* from 20 trials of 10 attempts on. It is a blind spot where it is missed
//! 10 points more often than his other trials of the same strata (whose move, half-moves deep, forcing
//! class), and Benjamini and Hochberg's procedure at 10 % over all that are asked about lets it stand.
//! 'No weakness' is said only where the 95 % interval of that difference excludes 10 points; everything else is 'not enough
//! yet', with the number of trials that would tell. Depth and forcing class are what trials are
//! compared within: deep and quiet moves are missed more often by everybody, so they are shown and never
//! called a blind spot (a simulated player without any weakness was called blind to deep moves in one
//! run of five before). Only first sights of sittings with one sight of the board are counted.
//!
//! What this does not protect from: looking every day. The 10 % hold for one look at the numbers.

use serde::Serialize;

use super::count::{Tally, counts_for};
use super::feature::{Feature, Group};
use super::record::AttemptStatistics;
use super::stats::mantel::compare;
use super::stats::many::discoveries;
use super::stats::{Interval, Rate, Z95};
use crate::text::capital;

/// Trials from which on a property is asked about.
pub const TRIALS_MIN: u64 = 20;
/// Attempts from which on anything is.
pub const ATTEMPTS_MIN: u64 = 10;
/// How much more often a blind spot is missed.
pub const MORE: f64 = 0.10;
/// Share of false ones among those named.
pub const FALSE_SHARE: f64 = 0.10;

/// What the trials say of one property.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Spot {
    pub feature: Feature,
    pub words: &'static str,
    /// Missed of all with the property.
    pub missed: Rate,
    /// 95 % interval (Wilson).
    pub interval: Interval,
    /// Missed of his others in the same strata; `None` where there are none.
    pub others: Option<Rate>,
    /// How much more often, compared within the strata; -1 to 1.
    pub difference: Option<f64>,
    /// 95 % interval of that difference, within -1 to 1.
    pub difference_interval: Option<Interval>,
    /// Trials with the property from which on ten points more can be told from none, at his rates; `None` where they
    /// are there, or nothing can be compared.
    pub needed: Option<u64>,
    /// One-sided.
    pub p: Option<f64>,
    pub state: State,
    /// The missed moments that a blind spot is made of: name of the attempt, place among its trials. Empty of
    /// everything else.
    pub moments: Vec<(String, usize)>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// A blind spot.
    Found,
    /// The interval of the difference excludes ten points more.
    NoWeakness,
    /// Too few trials, or too few to be sure.
    NotEnoughYet,
    /// Depth and forcing class: difficulty, and no weakness by itself.
    Difficulty,
}

/// All properties that stood in some trial: blind spots first, the clearest first; then by number of trials.
#[must_use]
pub fn spots(attempts: &[&(String, AttemptStatistics)]) -> Vec<Spot> {
    let tally = Tally::of(attempts.iter().map(|(_, c)| c));
    let mut spots = from_tally(&tally);
    for spot in spots.iter_mut().filter(|s| s.state == State::Found) {
        let moments = attempts.iter().filter_map(|(id, counted)| {
            let at = counts_for(&counted.trials, spot.feature)?;
            let missed = counted.trials.get(at).is_some_and(|bits| !bits.seen());
            missed.then(|| (id.clone(), at))
        });
        spot.moments = moments.collect();
    }
    spots
}

/// The same from counts alone, without the moments.
#[must_use]
pub fn from_tally(tally: &Tally) -> Vec<Spot> {
    let mut spots: Vec<Spot> = Feature::all()
        .map(|feature| one(tally, feature))
        .filter(|s| s.missed.of > 0)
        .collect();
    let asked: Vec<&mut Spot> = spots.iter_mut().filter(|s| is_asked(tally, s)).collect();
    let p: Vec<f64> = asked.iter().map(|s| s.p.unwrap_or(1.0)).collect();
    for (spot, positive) in asked.into_iter().zip(discoveries(&p, FALSE_SHARE)) {
        let more = spot.difference.unwrap_or(0.0);
        spot.state = match (positive, more >= MORE) {
            (true, true) => State::Found,
            // Ten points more are not what the trials say, and cannot be what they hide.
            _ if spot.is_excluded() => State::NoWeakness,
            _ => State::NotEnoughYet,
        };
    }
    spots.sort_by(|a, b| {
        let p = |s: &Spot| s.p.unwrap_or(1.0);
        a.state.cmp(&b.state).then_with(|| match a.state {
            State::Found => p(a).total_cmp(&p(b)),
            _ => b.missed.of.cmp(&a.missed.of),
        })
    });
    spots
}

fn is_difficulty(feature: Feature) -> bool {
    matches!(feature.group(), Group::Depth | Group::Class)
}

fn is_asked(tally: &Tally, spot: &Spot) -> bool {
    spot.state != State::Difficulty
        && spot.missed.of >= TRIALS_MIN
        && tally.attempts >= ATTEMPTS_MIN
        && spot.p.is_some()
}

fn one(tally: &Tally, feature: Feature) -> Spot {
    let missed = tally.rate(feature);
    let compared = compare(&tally.strata(feature));
    Spot {
        feature,
        words: feature.words(),
        missed,
        interval: missed.wilson(),
        others: compared.map(|c| c.outside),
        difference: compared.map(|c| c.difference),
        difference_interval: compared.map(|c| c.interval),
        needed: compared.and_then(|c| needed(c.inside, c.outside)),
        p: compared.map(|c| c.p),
        state: if is_difficulty(feature) {
            State::Difficulty
        } else {
            State::NotEnoughYet
        },
        moments: Vec::new(),
    }
}

/// Trials inside that tell a difference of [`MORE`] from none, two-sided at 5 % and found in 80 of 100 cases, where so many
/// others come on each of them: `(1.96 + 0.84)^2 * p * (1 - p) * (1 + inside / outside) / MORE^2` with the common rate `p`
/// (the normal approximation of two proportions; J. L. Fleiss, Statistical Methods for Rates and Proportions, 1981,
/// chapter 3; from memory). `None` where there are as many.
fn needed(inside: Rate, outside: Rate) -> Option<u64> {
    /// Quantile of the normal distribution at 80 %.
    const POWER: f64 = 0.841_621;
    let common = inside.with(outside);
    // A rate of none or all is not believed to the last point.
    let p = common.share().clamp(0.05, 0.95);
    let ratio = inside.of as f64 / outside.of.max(1) as f64;
    let number = (Z95 + POWER).powi(2) * p * (1.0 - p) * (1.0 + ratio) / (MORE * MORE);
    let number = number.ceil() as u64;
    (number > inside.of).then_some(number)
}

impl Spot {
    /// The interval leaves no room for ten points more.
    fn is_excluded(&self) -> bool {
        self.difference_interval.is_some_and(|i| i.high < MORE)
    }

    /// What to do about it, in one sentence.
    #[must_use]
    pub fn habit(&self) -> String {
        tr!("Before you decide, look once more for {}.", self.words)
    }

    /// 'Replies that give something up: 9 of 21 missed (24-63 %), your other replies at that depth 6 of
    /// 31.'
    #[must_use]
    pub fn sentence(&self) -> String {
        let percent = |x: f64| (x * 100.0).round();
        let mut text = tr!(
            "{}: {} of {} missed ({}-{} %)",
            capital(self.words),
            self.missed.part,
            self.missed.of,
            percent(self.interval.low),
            percent(self.interval.high)
        );
        if let Some(others) = self.others {
            text.push_str(&tr!(
                ", your others of that depth and kind {} of {}",
                others.part,
                others.of
            ));
        }
        if let Some(more) = self.difference_interval {
            text.push_str(&tr!(
                "; {} to {} points more",
                percent(more.low),
                percent(more.high)
            ));
        }
        text + "."
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::progress::feature::Bits;

    fn feature(name: &str) -> Feature {
        Feature::named(name).unwrap()
    }

    /// An attempt with one reply that gives something up and one that does not, both captures.
    fn attempt(gives: bool, other: bool) -> Vec<Bits> {
        let base = ["replies", "half-moves-1-2", "captures"].map(feature);
        let mut special = base.to_vec();
        special.push(feature("replies-that-give-up"));
        vec![Bits::with(&special, !gives), Bits::with(&base, !other)]
    }

    fn tally(count: u64, gives: u64, other: u64) -> Tally {
        let mut tally = Tally::default();
        for i in 0..count {
            tally.add(&attempt(i < gives, i < other));
        }
        tally
    }

    fn state(tally: &Tally) -> State {
        let spots = from_tally(tally);
        spots
            .iter()
            .find(|s| s.feature == feature("replies-that-give-up"))
            .unwrap()
            .state
    }

    #[test]
    fn the_gate() {
        assert_eq!(state(&tally(19, 19, 0)), State::NotEnoughYet);
        assert_eq!(state(&tally(20, 20, 0)), State::Found);
        // As often as the others, but the trials are too few to exclude ten points more.
        assert_eq!(state(&tally(20, 4, 4)), State::NotEnoughYet);
        assert_eq!(state(&tally(400, 80, 80)), State::NoWeakness);
        // Ten points more that may be chance.
        assert_eq!(state(&tally(20, 6, 4)), State::NotEnoughYet);
        // Certain, but less than ten points.
        assert_eq!(state(&tally(4000, 1300, 1000)), State::NoWeakness);
    }

    /// What is said to be needed tells: at so many trials of the same rates the state is no longer open.
    #[test]
    fn the_number_that_is_needed_is_enough() {
        let spots = from_tally(&tally(20, 4, 4));
        let spot = spots
            .iter()
            .find(|s| s.feature == feature("replies-that-give-up"));
        let needed = spot.unwrap().needed.unwrap();
        assert!((200..320).contains(&needed), "{needed}");
        let many = tally(needed, needed / 5, needed / 5);
        assert_eq!(state(&many), State::NoWeakness);
        let spots = from_tally(&many);
        let spot = spots
            .iter()
            .find(|s| s.feature == feature("replies-that-give-up"));
        assert_eq!(spot.unwrap().needed, None);
    }

    #[test]
    fn an_attempt_counts_once_for_a_property() {
        let mut tally = Tally::default();
        let many: Vec<Bits> = (0..6).flat_map(|_| attempt(true, true)).collect();
        tally.add(&many);
        assert_eq!(tally.rate(feature("replies-that-give-up")), Rate::new(1, 1));
        assert_eq!(tally.rate(feature("captures")), Rate::new(1, 1));
        assert_eq!(tally.own.of, 12);
    }

    #[test]
    fn the_sentence() {
        let tally = tally(21, 9, 4);
        let spots = from_tally(&tally);
        let spot = spots
            .iter()
            .find(|s| s.feature == feature("replies-that-give-up"))
            .unwrap();
        insta::assert_snapshot!(spot.sentence(), @"Replies that give something up: 9 of 21 missed (24-63 %), your others of that depth and kind 4 of 21; -3 to 51 points more.");
    }
}
