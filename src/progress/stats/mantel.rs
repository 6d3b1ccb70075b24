//! Two rates compared within strata, so that what differs between the strata cannot pass for a
//! difference of the rates.

use super::{Interval, Rate, Z95, upper_tail};

/// One stratum: cases of the group in question, and of the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Stratum {
    pub inside: Rate,
    pub outside: Rate,
}

impl Stratum {
    /// Strata with nothing on one side, or with one case only, compare nothing.
    fn compares(&self) -> bool {
        self.inside.of > 0 && self.outside.of > 0
    }

    fn all(&self) -> f64 {
        (self.inside.of + self.outside.of) as f64
    }
}

/// What the strata say together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Compared {
    /// Signed root of the chi-square statistic; positive where `inside` has more.
    pub z: f64,
    /// One-sided: the probability of a `z` as large where there is no difference.
    pub p: f64,
    /// Common difference of the rates, `inside` less `outside`.
    pub difference: f64,
    /// Its 95 % interval, within -1 to 1.
    pub interval: Interval,
    /// Cases inside that had something to be compared with.
    pub inside: Rate,
    /// The others in the same strata.
    pub outside: Rate,
}

/// The summary chi-square with one degree of freedom and continuity correction (N. Mantel and W.
/// Haenszel, Statistical aspects of the analysis of data from retrospective studies of disease, Journal
/// of the National Cancer Institute 22, 1959), told one-sided, and the common risk difference with
/// Mantel-Haenszel weights (S. Greenland and J. M. Robins, Estimation of a common effect parameter from
/// sparse follow-up data, Biometrics 41, 1985) with the variance of T. Sato (On the variance estimator for the
/// Mantel-Haenszel risk difference, Biometrics 45, 1989; formula from memory, held by simulation). `None` where no stratum compares anything, or nothing
/// varies.
#[must_use]
pub fn compare(strata: &[Stratum]) -> Option<Compared> {
    let mut sums = Sums::default();
    for stratum in strata.iter().filter(|s| s.compares()) {
        sums.add(stratum);
    }
    if sums.variance <= 0.0 || sums.weights <= 0.0 {
        return None;
    }
    let excess = sums.observed - sums.expected;
    let corrected = (excess.abs() - 0.5).max(0.0).copysign(excess);
    let z = corrected / sums.variance.sqrt();
    let difference = sums.weighted / sums.weights;
    let variance = (difference * sums.p + sums.q) / (sums.weights * sums.weights);
    let half = Z95 * variance.max(sums.least_variance()).sqrt();
    Some(Compared {
        z,
        p: upper_tail(z),
        difference,
        interval: Interval {
            low: difference - half,
            high: difference + half,
        }
        .within(-1.0, 1.0),
        inside: sums.inside,
        outside: sums.outside,
    })
}

#[derive(Default)]
struct Sums {
    observed: f64,
    expected: f64,
    variance: f64,
    weighted: f64,
    weights: f64,
    /// The two sums of Sato's variance.
    p: f64,
    q: f64,
    inside: Rate,
    outside: Rate,
}

impl Sums {
    /// The variance is no smaller than that of the strata taken together with two cases more on each side, one of them missed
    /// (A. Agresti and B. Caffo, The American Statistician 54, 2000): where nothing or everything was missed Sato's is 0,
    /// and so certain is nobody.
    fn least_variance(&self) -> f64 {
        let one = |rate: Rate| {
            let n = rate.of as f64 + 2.0;
            let p = (rate.part as f64 + 1.0) / n;
            p * (1.0 - p) / n
        };
        one(self.inside) + one(self.outside)
    }

    fn add(&mut self, stratum: &Stratum) {
        let (n1, n0, n) = (
            stratum.inside.of as f64,
            stratum.outside.of as f64,
            stratum.all(),
        );
        let (a, c) = (stratum.inside.part as f64, stratum.outside.part as f64);
        let m = a + c;
        self.observed += a;
        self.expected += n1 * m / n;
        self.variance += n1 * n0 * m * (n - m) / (n * n * (n - 1.0));
        self.weighted += (a * n0 - c * n1) / n;
        self.weights += n1 * n0 / n;
        self.p += (n1 * n1 * c - n0 * n0 * a + n1 * n0 * (n0 - n1) / 2.0) / (n * n);
        self.q += (a * (n0 - c) + c * (n1 - a)) / (2.0 * n);
        self.inside = self.inside.with(stratum.inside);
        self.outside = self.outside.with(stratum.outside);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stratum(a: u64, b: u64, c: u64, d: u64) -> Stratum {
        Stratum {
            inside: Rate::new(a, a + b),
            outside: Rate::new(c, c + d),
        }
    }

    /// Admissions by department (P. J. Bickel, E. A. Hammel and J. W. O'Connell, Sex bias in graduate
    /// admissions, Science 187, 1975); the statistic 1.4269 with continuity correction, p = .2323, as
    /// textbooks give it (from memory).
    #[test]
    fn admissions() {
        let strata = [
            stratum(512, 313, 89, 19),
            stratum(353, 207, 17, 8),
            stratum(120, 205, 202, 391),
            stratum(138, 279, 131, 244),
            stratum(53, 138, 94, 299),
            stratum(22, 351, 24, 317),
        ];
        let compared = compare(&strata).unwrap();
        assert!((compared.z.powi(2) - 1.4269).abs() < 5e-5, "{compared:?}");
        assert!((2.0 * compared.p.min(1.0 - compared.p) - 0.2323).abs() < 5e-5);
        assert!(compared.z < 0.0);
    }

    /// One stratum is the ordinary comparison: the difference is that of the rates.
    #[test]
    fn one_stratum() {
        let compared = compare(&[stratum(9, 12, 6, 25)]).unwrap();
        assert!((compared.difference - (9.0 / 21.0 - 6.0 / 31.0)).abs() < 1e-12);
    }

    /// E. H. Simpson, The interpretation of interaction in contingency tables, 1951: rates that differ
    /// only because the strata do are not different.
    #[test]
    fn strata_take_away_what_is_theirs() {
        let strata = [stratum(80, 20, 8, 2), stratum(2, 8, 20, 80)];
        let compared = compare(&strata).unwrap();
        assert!(compared.difference.abs() < 1e-12);
        assert!(compared.p > 0.4);
        let pooled = compare(&[stratum(82, 28, 28, 82)]).unwrap();
        assert!(pooled.p < 1e-6);
    }

    #[test]
    fn nothing_to_compare() {
        assert_eq!(compare(&[]), None);
        assert_eq!(compare(&[stratum(3, 4, 0, 0)]), None);
        assert_eq!(compare(&[stratum(0, 4, 0, 7)]), None);
        assert_eq!(compare(&[stratum(1, 0, 1, 0)]), None);
    }

    /// Of one large stratum the variance is nearly the usual one of two proportions (p(1-p)/n on each side), and over two
    /// small strata with a difference of .2 the interval covers it about as often as it says.
    #[test]
    fn the_interval_is_as_wide_as_it_says() {
        let one = compare(&[stratum(300, 700, 200, 800)]).unwrap();
        let usual = 1.96 * (0.3 * 0.7 / 1000.0 + 0.2 * 0.8 / 1000.0_f64).sqrt();
        let half = (one.interval.high - one.interval.low) / 2.0;
        assert!((half / usual - 1.0).abs() < 0.02, "{half} {usual}");
        let mut state = 7;
        let mut falls = |share: f64| {
            state = crate::board::random::after(state);
            ((state >> 11) as f64 / (1_u64 << 53) as f64) < share
        };
        let mut covered = 0;
        for _ in 0..2_000 {
            let mut drawn = |share: f64, of: u64| {
                let mut rate = Rate::default();
                (0..of).for_each(|_| rate.add(falls(share)));
                rate
            };
            let strata =
                [(0.3, 0.1, 25, 40), (0.6, 0.4, 15, 30)].map(|(inside, outside, a, b)| Stratum {
                    inside: drawn(inside, a),
                    outside: drawn(outside, b),
                });
            covered += usize::from(compare(&strata).is_some_and(|c| c.interval.holds(0.2)));
        }
        assert!((1_860..=1_970).contains(&covered), "{covered} of 2000");
    }
}
