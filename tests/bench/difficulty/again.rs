//! Intervals by drawing whole games again (bootstrap; B. Efron, Bootstrap methods: another look at the jackknife, Annals of
//! Statistics 7, 1979): positions of one game are not independent.

use std::collections::BTreeMap;

use foreply::board::random::SplitMix;

/// What all games say, with its 95 % interval.
#[derive(Debug, Clone, Copy)]
pub struct Interval {
    pub mean: f64,
    pub low: f64,
    pub high: f64,
}

/// Samples that are drawn.
const DRAWN: usize = 1000;

/// The same numbers of many samples of whole games: 95 % of each.
pub fn samples<T: Copy, const N: usize>(
    of: &[(usize, T)],
    figures: impl Fn(&[T]) -> [f64; N],
) -> [Interval; N] {
    let mut by_game: BTreeMap<usize, Vec<T>> = BTreeMap::new();
    for (game, value) in of {
        by_game.entry(*game).or_default().push(*value);
    }
    let games: Vec<Vec<T>> = by_game.into_values().collect();
    let mut dice = SplitMix(1);
    let drawn: Vec<[f64; N]> = (0..DRAWN)
        .map(|_| {
            let game = |_| &games[(dice.roll() % games.len() as u64) as usize];
            let sample: Vec<T> = (0..games.len()).flat_map(game).copied().collect();
            figures(&sample)
        })
        .collect();
    let all = figures(&games.concat());
    std::array::from_fn(|which| {
        let mut one: Vec<f64> = drawn.iter().map(|d| d[which]).collect();
        one.sort_by(f64::total_cmp);
        Interval {
            mean: all[which],
            low: one[DRAWN / 40],
            high: one[DRAWN - DRAWN / 40 - 1],
        }
    })
}
