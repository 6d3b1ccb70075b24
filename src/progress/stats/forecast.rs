//! How good stated expectations were, held against what came.

use serde::Serialize;

/// A stated expectation and what came of it, both 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Forecast {
    pub stated: f64,
    pub came: f64,
}

/// The mean squared error and what it is made of.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Brier {
    /// Mean of (stated - came)^2: half of what the paper defines for two outcomes (G. W. Brier,
    /// Verification of forecasts expressed in terms of probability, Monthly Weather Review 78, 1950).
    pub score: f64,
    /// How far the stated lie from what came in their groups: 0 is best.
    pub reliability: f64,
    /// How far the groups lie from the mean of all: the more the better.
    pub resolution: f64,
    /// How uncertain the outcomes were by themselves.
    pub uncertainty: f64,
    /// What is lost by putting different expectations into one group; 0 where the members of each
    /// group said the same. `score = reliability - resolution + uncertainty + within`.
    pub within: f64,
    pub count: usize,
}

/// The Brier score with the partition of A. H. Murphy (A new vector partition of the probability score,
/// Journal of Applied Meteorology 12, 1973) over `groups` equal parts of 0 to 1; a group forecasts its
/// own mean. Outcomes between 0 and 1 (a draw) are allowed: the uncertainty is their variance. `None`
/// without forecasts.
#[must_use]
pub fn brier(forecasts: &[Forecast], groups: usize) -> Option<Brier> {
    if forecasts.is_empty() || groups == 0 {
        return None;
    }
    let n = forecasts.len() as f64;
    let mean = |of: fn(&Forecast) -> f64| forecasts.iter().map(of).sum::<f64>() / n;
    let score = forecasts
        .iter()
        .map(|f| (f.stated - f.came).powi(2))
        .sum::<f64>()
        / n;
    let base = mean(|f| f.came);
    let uncertainty = forecasts
        .iter()
        .map(|f| (f.came - base).powi(2))
        .sum::<f64>()
        / n;
    let bins = reliability(forecasts, groups);
    let weighted =
        |of: &dyn Fn(&Bin) -> f64| bins.iter().map(|b| b.count as f64 * of(b)).sum::<f64>() / n;
    let reliability = weighted(&|b| (b.stated - b.came).powi(2));
    let resolution = weighted(&|b| (b.came - base).powi(2));
    Some(Brier {
        score,
        reliability,
        resolution,
        uncertainty,
        within: score - (reliability - resolution + uncertainty),
        count: forecasts.len(),
    })
}

/// One point of a reliability diagram.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Bin {
    /// Mean of what was stated, 0 to 1.
    pub stated: f64,
    /// Mean of what came, 0 to 1.
    pub came: f64,
    pub count: usize,
}

/// The groups that are not empty, from the lowest expectation to the highest.
#[must_use]
pub fn reliability(forecasts: &[Forecast], groups: usize) -> Vec<Bin> {
    let mut bins = vec![Bin::default(); groups];
    for f in forecasts {
        let at = (f.stated.clamp(0.0, 1.0) * groups as f64) as usize;
        if let Some(bin) = bins.get_mut(at.min(groups.saturating_sub(1))) {
            bin.stated += f.stated;
            bin.came += f.came;
            bin.count += 1;
        }
    }
    bins.retain(|b| b.count > 0);
    for bin in &mut bins {
        bin.stated /= bin.count as f64;
        bin.came /= bin.count as f64;
    }
    bins
}

#[cfg(test)]
mod tests {
    use super::*;

    fn forecasts(pairs: &[(f64, f64)]) -> Vec<Forecast> {
        pairs
            .iter()
            .map(|(stated, came)| Forecast {
                stated: *stated,
                came: *came,
            })
            .collect()
    }

    /// The ten forecasts of rain in Brier's paper, whose score over both classes is .19 (from memory).
    #[test]
    fn briers_example() {
        let rain = forecasts(&[
            (0.7, 0.0),
            (0.9, 1.0),
            (0.8, 1.0),
            (0.4, 1.0),
            (0.2, 0.0),
            (0.0, 0.0),
            (0.0, 0.0),
            (0.0, 0.0),
            (0.0, 0.0),
            (0.1, 0.0),
        ]);
        let brier = brier(&rain, 10).unwrap();
        assert!((2.0 * brier.score - 0.19).abs() < 1e-12);
    }

    /// Murphy's partition is exact where a group says one thing: three groups by hand. Stated .2 came
    /// 1 of 4; stated .5 came 1 of 2; stated .9 came 3 of 4. All: 5 of 10.
    #[test]
    fn murphys_partition_by_hand() {
        let said = forecasts(&[
            (0.2, 1.0),
            (0.2, 0.0),
            (0.2, 0.0),
            (0.2, 0.0),
            (0.5, 1.0),
            (0.5, 0.0),
            (0.9, 1.0),
            (0.9, 1.0),
            (0.9, 1.0),
            (0.9, 0.0),
        ]);
        let b = brier(&said, 10).unwrap();
        let near = |x: f64, y: f64| assert!((x - y).abs() < 1e-12, "{x} is not {y}");
        near(
            b.reliability,
            (4.0 * 0.05f64.powi(2) + 4.0 * 0.15f64.powi(2)) / 10.0,
        );
        near(
            b.resolution,
            (4.0 * 0.25f64.powi(2) + 4.0 * 0.25f64.powi(2)) / 10.0,
        );
        near(b.uncertainty, 0.25);
        near(b.within, 0.0);
        near(b.score, b.reliability - b.resolution + b.uncertainty);
    }

    #[test]
    fn draws_and_single_forecasts() {
        let b = brier(&forecasts(&[(0.5, 0.5)]), 10).unwrap();
        assert_eq!((b.score, b.uncertainty, b.count), (0.0, 0.0, 1));
        assert_eq!(brier(&[], 10), None);
        assert_eq!(reliability(&forecasts(&[(1.0, 1.0)]), 10).len(), 1);
    }
}
