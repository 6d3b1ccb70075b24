//! A randomisation test for several series, each of which changes at a time that was drawn.
//!
//! The design is a multiple baseline with random starts (P. Onghena, Randomization tests for extensions and variations of ABAB
//! single-case experimental designs, Behavioral Assessment 14, 1992; for its power S. Bouwmeester and J. Jongerling, PLoS ONE 15(2),
//! 2020, e0228355): the times of the units are drawn, distinct, from a window, every choice of them as likely as every other. What was
//! measured is taken as it is; the statistic is computed for each draw that could have been; `p` is the share of draws with a
//! statistic at least as great as that of the draw that was. So the level holds whatever the series do by themselves: a trend, weeks
//! that resemble each other, unequal numbers. Nothing is assumed but that the draw was one.
//!
//! The statistic is the common difference of the rates, before less after, with Mantel-Haenszel weights (S. Greenland and J. M.
//! Robins, Biometrics 41, 1985), one stratum a series.

use super::Rate;

/// One series: cases by time, of a unit whose practice begins at a time that was drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Series {
    /// Which of the drawn times is its own.
    pub unit: usize,
    /// Missed of all, time by time from 0 on.
    pub times: Vec<Rate>,
}

/// What the test says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tested {
    /// Before less after, -1 to 1: positive where fewer were missed after.
    pub effect: f64,
    /// One-sided.
    pub p: f64,
    /// Draws that could have been.
    pub draws: usize,
}

/// All draws that can be: distinct times for `units` from `first` to `last`, in the order of counting.
#[must_use]
pub fn draws(units: usize, first: usize, last: usize) -> Vec<Vec<usize>> {
    let mut all = vec![Vec::new()];
    for _ in 0..units {
        let longer = all.iter().flat_map(|drawn: &Vec<usize>| {
            (first..=last)
                .filter(|time| !drawn.contains(time))
                .map(|time| [drawn.as_slice(), &[time]].concat())
                .collect::<Vec<_>>()
        });
        all = longer.collect();
    }
    all
}

/// Before less after in one series, as it counts in the whole: weight, and weight times difference; `None` where one side has no case.
fn part(series: &Series, start: usize) -> Part {
    let (early, late) = series.times.split_at_checked(start)?;
    let sum = |of: &[Rate]| of.iter().fold(Rate::default(), |all, r| all.with(*r));
    let (before, after) = (sum(early), sum(late));
    if before.of == 0 || after.of == 0 {
        return None;
    }
    let (n, m) = (before.of as f64, after.of as f64);
    let weight = n * m / (n + m);
    Some((weight, weight * (before.share() - after.share())))
}

/// Every part that can be asked for, computed once: by series with its unit, then by start.
struct Parts(Vec<(usize, Vec<Part>)>);

/// Weight, and weight times difference.
type Part = Option<(f64, f64)>;

impl Parts {
    fn of(series: &[Series], last: usize) -> Self {
        let of_one = |s: &Series| (s.unit, (0..=last).map(|start| part(s, start)).collect());
        Self(series.iter().map(of_one).collect())
    }

    /// The statistic of a draw; `None` where no series has cases on both sides.
    fn effect(&self, starts: &[usize]) -> Option<f64> {
        let mut sums = (0.0, 0.0);
        for (unit, by_start) in &self.0 {
            let start = *starts.get(*unit)?;
            if let Some((weight, weighted)) = by_start.get(start).copied().flatten() {
                sums = (sums.0 + weight, sums.1 + weighted);
            }
        }
        (sums.0 > 0.0).then(|| sums.1 / sums.0)
    }
}

/// Sums of the same numbers in another order differ by less.
const SAME: f64 = 1e-9;

/// The test of the draw `starts` among `draws`. A draw without a statistic counts as one at least as great. `None` where the
/// draw that was has none.
#[must_use]
pub fn test(series: &[Series], starts: &[usize], draws: &[Vec<usize>]) -> Option<Tested> {
    let last = draws.iter().flatten().copied().max().unwrap_or_default();
    let parts = Parts::of(series, last);
    let effect = parts.effect(starts)?;
    let as_great = |draw: &&Vec<usize>| parts.effect(draw).is_none_or(|e| e >= effect - SAME);
    let count = draws.iter().filter(as_great).count();
    Some(Tested {
        effect,
        p: count as f64 / draws.len().max(1) as f64,
        draws: draws.len(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn series(unit: usize, missed: &[u64], of: u64) -> Series {
        Series {
            unit,
            times: missed.iter().map(|m| Rate::new(*m, of)).collect(),
        }
    }

    #[test]
    fn every_draw_once() {
        let all = draws(2, 3, 5);
        let six = [[3, 4], [3, 5], [4, 3], [4, 5], [5, 3], [5, 4]];
        assert_eq!(all, six.map(|d| d.to_vec()));
        assert_eq!(draws(3, 3, 9).len(), 7 * 6 * 5);
    }

    /// By hand: two units over six times, two cases each; the first falls from 2 of 2 to 0 at time 2, the second at time 4. Of the
    /// draws of distinct times from 2 to 4 only the true one divides them without rest.
    #[test]
    fn the_true_draw_stands_out() {
        let all = [
            series(0, &[2, 2, 0, 0, 0, 0], 2),
            series(1, &[2, 2, 2, 2, 0, 0], 2),
        ];
        let draws = draws(2, 2, 4);
        let tested = test(&all, &[2, 4], &draws).unwrap();
        assert_eq!((tested.effect, tested.draws), (1.0, 6));
        assert!((tested.p - 1.0 / 6.0).abs() < 1e-12);
        // The other way about it is the least of all.
        let swapped = test(&all, &[4, 2], &draws).unwrap();
        assert!(swapped.effect < tested.effect && swapped.p > 0.8);
    }

    #[test]
    fn what_is_the_same_everywhere_says_nothing() {
        let all = [series(0, &[1; 6], 2), series(1, &[1; 6], 2)];
        let tested = test(&all, &[2, 4], &draws(2, 2, 4)).unwrap();
        assert_eq!((tested.effect, tested.p), (0.0, 1.0));
        assert_eq!(test(&[], &[2, 4], &draws(2, 2, 4)), None);
        let empty = [series(0, &[0; 6], 0)];
        assert_eq!(test(&empty, &[2, 4], &draws(2, 2, 4)), None);
    }
}
