//! A share of cases, with the interval that says how little it may mean.

use serde::Serialize;

use super::Z95;

/// So many cases of so many. `part` is never more than `of`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, schemars::JsonSchema)]
pub struct Rate {
    pub part: u64,
    pub of: u64,
}

/// A lower and an upper bound.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Interval {
    pub low: f64,
    pub high: f64,
}

impl Interval {
    /// True where the value lies inside or on a bound.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }

    /// The part of it in which the value can lie at all.
    #[must_use]
    pub fn within(self, least: f64, most: f64) -> Self {
        Self {
            low: self.low.clamp(least, most),
            high: self.high.clamp(least, most),
        }
    }
}

impl Rate {
    #[must_use]
    pub fn new(part: u64, of: u64) -> Self {
        Self {
            part: part.min(of),
            of,
        }
    }

    /// Counts one case more.
    pub fn add(&mut self, counts: bool) {
        self.part += u64::from(counts);
        self.of += 1;
    }

    /// The two taken together.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            part: self.part + other.part,
            of: self.of + other.of,
        }
    }

    /// 0 to 1; 0 where there is no case.
    #[must_use]
    pub fn share(&self) -> f64 {
        if self.of == 0 {
            0.0
        } else {
            self.part as f64 / self.of as f64
        }
    }

    /// The 95 % score interval without continuity correction (E. B. Wilson, Probable inference, the law
    /// of succession, and statistical inference, Journal of the American Statistical Association 22,
    /// 1927). All of 0 to 1 where there is no case.
    #[must_use]
    pub fn wilson(&self) -> Interval {
        if self.of == 0 {
            return Interval {
                low: 0.0,
                high: 1.0,
            };
        }
        let (p, n, z2) = (self.share(), self.of as f64, Z95 * Z95);
        let middle = p + z2 / (2.0 * n);
        let half = Z95 * (p * (1.0 - p) / n + z2 / (4.0 * n * n)).sqrt();
        let scale = 1.0 + z2 / n;
        Interval {
            // At the ends the bound is exact; rounding must not put it beside the share.
            low: if self.part == 0 {
                0.0
            } else {
                (middle - half) / scale
            },
            high: if self.part == self.of {
                1.0
            } else {
                (middle + half) / scale
            },
        }
    }
}

/// The share of `a` less that of `b`, with its 95 % interval built from the two Wilson intervals (R. G.
/// Newcombe, Interval estimation for the difference between independent proportions, Statistics in
/// Medicine 17, 1998, method 10).
#[must_use]
pub fn difference(a: Rate, b: Rate) -> (f64, Interval) {
    let (pa, pb, wa, wb) = (a.share(), b.share(), a.wilson(), b.wilson());
    let d = pa - pb;
    let low = d - (pa - wa.low).hypot(wb.high - pb);
    let high = d + (wa.high - pa).hypot(pb - wb.low);
    (d, Interval { low, high })
}

/// Quantiles of Student's t at 97.5 %, for 1 to 30 degrees of freedom (Student 1908; the usual table, as in R. A.
/// Fisher, Statistical Methods for Research Workers, 1925; numbers from memory, held against scipy in the tests).
const T95: [f64; 30] = [
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160,
    2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086, 2.080, 2.074, 2.069, 2.064, 2.060, 2.056,
    2.052, 2.048, 2.045, 2.042,
];

/// The quantile for any number of degrees of freedom; beyond the table the first term of its expansion from the
/// normal one, which is then off by less than .003.
fn t95(degrees: usize) -> f64 {
    let table = degrees.checked_sub(1).and_then(|at| T95.get(at));
    table.copied().unwrap_or_else(|| {
        let curve = (Z95 * Z95 + 1.0) / (4.0 * degrees.max(1) as f64);
        Z95 * (1.0 + curve)
    })
}

/// Arithmetic mean with its 95 % interval by Student's t: wide where there are few values. `None` where there is no
/// value; no interval where there is one.
#[must_use]
pub fn mean(values: &[f64]) -> Option<(f64, Option<Interval>)> {
    let n = values.len() as f64;
    if values.is_empty() {
        return None;
    }
    let m = values.iter().sum::<f64>() / n;
    if values.len() == 1 {
        return Some((m, None));
    }
    let variance = values.iter().map(|v| (v - m).powi(2)).sum::<f64>() / (n - 1.0);
    let half = t95(values.len() - 1) * (variance / n).sqrt();
    Some((
        m,
        Some(Interval {
            low: m - half,
            high: m + half,
        }),
    ))
}

/// The middle value, or the mean of the two in the middle; `None` of nothing. For times, which a few long ones
/// would draw out.
#[must_use]
pub fn median(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = sorted.len() / 2;
    let upper = *sorted.get(middle)?;
    if sorted.len() % 2 == 1 {
        return Some(upper);
    }
    let lower = sorted.get(middle.checked_sub(1)?)?;
    Some(lower.midpoint(upper))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: Interval, low: f64, high: f64) {
        let close = |x: f64, y: f64| (x - y).abs() < 6e-5;
        assert!(
            close(a.low, low) && close(a.high, high),
            "{a:?} is not {low}, {high}"
        );
    }

    /// R. G. Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine
    /// 17, 1998, table I, method 3 (from memory).
    #[test]
    fn newcombes_four_examples() {
        near(Rate::new(81, 263).wilson(), 0.2553, 0.3662);
        near(Rate::new(15, 148).wilson(), 0.0624, 0.1605);
        near(Rate::new(0, 20).wilson(), 0.0, 0.1611);
        near(Rate::new(1, 29).wilson(), 0.0061, 0.1718);
    }

    /// The same author's paper on differences, table II, examples (a) and (g), method 10 (from memory).
    #[test]
    fn differences_of_newcombe() {
        let (d, interval) = difference(Rate::new(56, 70), Rate::new(48, 80));
        assert!((d - 0.2).abs() < 1e-12);
        near(interval, 0.0524, 0.3339);
        let (_, interval) = difference(Rate::new(10, 10), Rate::new(0, 20));
        near(interval, 0.6791, 1.0);
    }

    #[test]
    fn nothing_counted_says_nothing() {
        assert_eq!(
            Rate::default().wilson(),
            Interval {
                low: 0.0,
                high: 1.0
            }
        );
        assert_eq!(mean(&[]), None);
        assert_eq!(mean(&[0.25]), Some((0.25, None)));
    }

    #[test]
    fn the_share_lies_in_its_interval() {
        for of in 1..60 {
            for part in 0..=of {
                let rate = Rate::new(part, of);
                assert!(rate.wilson().holds(rate.share()), "{part} of {of}");
            }
        }
    }
}
