//! How often an effect would be found with numbers of cases that there are: by simulation.

use crate::board::random::SplitMix;
use crate::progress::stats::Rate;
use crate::progress::stats::randomisation::{Series, test};

/// Invented players.
const RUNS: usize = 400;
/// The level of the test.
pub const LEVEL: f64 = 0.05;

/// In how many of 100 experiments with as many cases an effect is found that takes `drop` (0 to 1) of the cases missed away
/// from the start of a block on; each draws its starts anew. The rate before is that of all cases in the series.
#[must_use]
pub fn found_of_100(series: &[Series], draws: &[Vec<usize>], drop: f64) -> u32 {
    let mut random = SplitMix(1992);
    let mut found = 0;
    for _ in 0..RUNS {
        let place = usize::try_from(random.roll()).unwrap_or(usize::MAX) % draws.len().max(1);
        let Some(starts) = draws.get(place) else {
            return 0;
        };
        let invented: Vec<Series> = series
            .iter()
            .map(|s| invented(s, starts.get(s.unit).copied(), drop, &mut random))
            .collect();
        let tested = test(&invented, starts, draws);
        found += u32::from(tested.is_some_and(|t| t.p <= LEVEL));
    }
    (f64::from(found) * 100.0 / RUNS as f64).round() as u32
}

/// The same cases, missed or not by chance.
fn invented(of: &Series, start: Option<usize>, drop: f64, random: &mut SplitMix) -> Series {
    let all = of.times.iter().fold(Rate::default(), |a, r| a.with(*r));
    let times = of.times.iter().enumerate().map(|(time, rate)| {
        let after = start.is_some_and(|s| time >= s);
        let missed = (all.share() - if after { drop } else { 0.0 }).clamp(0.0, 1.0);
        let mut drawn = Rate::default();
        for _ in 0..rate.of {
            drawn.add(share(random) < missed);
        }
        drawn
    });
    Series {
        unit: of.unit,
        times: times.collect(),
    }
}

/// From 0 up to 1.
pub(super) fn share(random: &mut SplitMix) -> f64 {
    (random.roll() >> 11) as f64 / (1u64 << 53) as f64
}
