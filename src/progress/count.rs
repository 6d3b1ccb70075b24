//! Trials counted by property and stratum.
//!
//! Lines of one attempt are not independent: for each property an attempt gives one trial at most, the
//! earliest (moments stand from the root down); among the trials without it one a stratum.

use super::feature::{Bits, Feature, Group, STRATA, merged};
use super::record::AttemptStatistics;
use super::stats::Rate;
use super::stats::mantel::Stratum;

/// Numbers of properties.
const FEATURES: usize = 62;

/// All counts of some attempts.
#[derive(Debug, Clone)]
pub struct Tally {
    /// Missed of all, by property and stratum: `feature * STRATA + stratum`.
    inside: Vec<Rate>,
    outside: Vec<Rate>,
    /// Missed of all trials.
    pub own: Rate,
    pub attempts: u64,
    every: u64,
}

impl Default for Tally {
    fn default() -> Self {
        Self {
            inside: vec![Rate::default(); FEATURES * STRATA],
            outside: vec![Rate::default(); FEATURES * STRATA],
            own: Rate::default(),
            attempts: 0,
            every: Feature::all().fold(0, |all, f| all | 1 << f.index()),
        }
    }
}

impl Tally {
    /// The counts of all these attempts.
    pub fn of<'a>(attempts: impl IntoIterator<Item = &'a AttemptStatistics>) -> Self {
        let mut tally = Self::default();
        for attempt in attempts {
            tally.add(&attempt.trials);
        }
        tally
    }

    /// Adds the trials of one attempt.
    pub fn add(&mut self, trials: &[Bits]) {
        if trials.is_empty() {
            return;
        }
        self.attempts += 1;
        let mut taken = 0;
        let mut without = [0u64; FEATURES];
        for bits in trials {
            let (stratum, missed) = (bits.stratum(), !bits.seen());
            self.own.add(missed);
            for at in ones(bits.mask() & !taken) {
                add(&mut self.inside, at, stratum, missed);
            }
            taken |= bits.mask();
            for at in ones(self.every & !bits.mask()) {
                if let Some(done) = without.get_mut(at).filter(|d| **d >> stratum & 1 == 0) {
                    *done |= 1 << stratum;
                    add(&mut self.outside, at, stratum, missed);
                }
            }
        }
    }

    /// Missed of all with the property, whatever the stratum.
    #[must_use]
    pub fn rate(&self, feature: Feature) -> Rate {
        row(&self.inside, feature)
            .iter()
            .fold(Rate::default(), |sum, r| sum.with(*r))
    }

    /// The strata for a question about the property.
    #[must_use]
    pub fn strata(&self, feature: Feature) -> Vec<Stratum> {
        pair(
            row(&self.inside, feature),
            row(&self.outside, feature),
            feature.group(),
        )
    }

    /// The strata for the question whether the property is missed more often here than in `before`.
    #[must_use]
    pub fn strata_against(&self, before: &Self, feature: Feature) -> Vec<Stratum> {
        pair(
            row(&self.inside, feature),
            row(&before.inside, feature),
            Group::Motif,
        )
    }
}

fn add(rates: &mut [Rate], feature: usize, stratum: usize, missed: bool) {
    if let Some(rate) = rates.get_mut(feature * STRATA + stratum) {
        rate.add(missed);
    }
}

fn row(rates: &[Rate], feature: Feature) -> &[Rate] {
    let from = feature.index() * STRATA;
    rates.get(from..from + STRATA).unwrap_or_default()
}

fn pair(inside: &[Rate], outside: &[Rate], group: Group) -> Vec<Stratum> {
    let mut strata = vec![Stratum::default(); STRATA];
    for (at, (i, o)) in inside.iter().zip(outside).enumerate() {
        if let Some(stratum) = strata.get_mut(merged(at, group)) {
            stratum.inside = stratum.inside.with(*i);
            stratum.outside = stratum.outside.with(*o);
        }
    }
    strata
}

/// The places of the ones in a number.
fn ones(mut mask: u64) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let at = mask.trailing_zeros() as usize;
        (mask != 0).then(|| {
            mask &= mask - 1;
            at
        })
    })
}

/// The trial of an attempt that counts for a property: its place among [`AttemptStatistics::trials`].
#[must_use]
pub fn counts_for(trials: &[Bits], feature: Feature) -> Option<usize> {
    trials.iter().position(|bits| bits.has(feature))
}
