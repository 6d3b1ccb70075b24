//! Our statistics against scipy and statsmodels, on random tables.

use crate::support::left_out;
use std::process::Command;

use foreply::progress::quick::{Try, threshold};
use foreply::progress::stats::forecast::{Forecast, brier};
use foreply::progress::stats::mantel::{Stratum, compare};
use foreply::progress::stats::many::discoveries;
use foreply::progress::stats::randomisation::{Series, draws, test};
use foreply::progress::stats::{Rate, difference, mean};

/// What the other implementations say, a line each: name, arguments, results.
const SCRIPT: &str = r#"
import numpy as np, warnings
warnings.filterwarnings("ignore")
from statsmodels.stats.proportion import proportion_confint, confint_proportions_2indep
from statsmodels.stats.contingency_tables import StratifiedTable
from statsmodels.stats.multitest import multipletests
from scipy.stats import t
rng = np.random.default_rng(1927)
for n in [2, 3, 4, 6, 9, 12, 20, 31, 32, 50, 200]:
    values = rng.random(n); m = values.mean()
    lo, hi = t.interval(0.95, n - 1, loc=m, scale=values.std(ddof=1) / n ** 0.5)
    print("mean", *values.tolist(), repr(float(m)), repr(float(lo)), repr(float(hi)))
for _ in range(200):
    n = int(rng.integers(1, 400)); k = int(rng.integers(0, n + 1))
    lo, hi = proportion_confint(k, n, method="wilson")
    print("wilson", k, n, repr(float(lo)), repr(float(hi)))
for _ in range(60):
    n, m = (int(x) for x in rng.integers(5, 200, 2)); k = int(rng.integers(1, n)); l = int(rng.integers(1, m))
    lo, hi = confint_proportions_2indep(k, n, l, m, method="newcomb", compare="diff")
    print("newcombe", k, n, l, m, repr(float(lo)), repr(float(hi)))
for _ in range(60):
    tables = [rng.integers(1, 40, (2, 2)) for _ in range(int(rng.integers(1, 8)))]
    excess = sum(t[0, 0] - t[0].sum() * t[:, 0].sum() / t.sum() for t in tables)
    while abs(excess) < 0.5:  # there the corrections differ: ours is then nothing
        tables[0][0, 0] += 7
        excess = sum(t[0, 0] - t[0].sum() * t[:, 0].sum() / t.sum() for t in tables)
    result = StratifiedTable(tables).test_null_odds(correction=True)
    print("mantel", *[int(x) for t in tables for x in t.ravel()], repr(float(result.statistic)))
for _ in range(60):
    p = rng.random(int(rng.integers(1, 40))) ** 3
    found = multipletests(p, 0.1, method="fdr_bh")[0]
    print("bh", *[repr(float(x)) for x in p], *[int(x) for x in found])
for _ in range(60):
    n = int(rng.integers(2, 80)); stated = rng.integers(0, 11, n) / 10; came = rng.integers(0, 3, n) / 2
    rel = res = 0.0
    for s in np.unique(stated):
        of = came[stated == s]; rel += len(of) * (s - of.mean()) ** 2; res += len(of) * (of.mean() - came.mean()) ** 2
    print("brier", *stated.tolist(), *came.tolist(), repr(float(((stated - came) ** 2).mean())), repr(float(rel / n)), repr(float(res / n)), repr(float(came.var())))
for _ in range(20):
    n = int(rng.integers(8, 60)); clocks = np.exp2(rng.uniform(3.5, 10, n)).round(); true = np.exp2(rng.uniform(4, 9))
    solved = rng.random(n) < 1 / (1 + np.exp(-1.5 * np.log2(clocks / true) - np.log(3)))
    at = np.log2(5) + np.arange(int(np.log2(3600 / 5) * 16) + 1) / 16
    x = np.array([0.5, 1, 2, 4])[None, :, None] * (np.log2(clocks)[None, None, :] - at[:, None, None]) + np.log(3)
    weight = np.exp(-np.logaddexp(0, np.where(solved, -x, x)).sum(axis=2)).sum(axis=1)
    share = weight.cumsum() / weight.sum()
    print("three", *clocks.tolist(), *[int(s) for s in solved], *[repr(float(2 ** at[np.searchsorted(share, q)])) for q in (0.5, 0.025, 0.975)])
from itertools import permutations
for _ in range(20):
    units, weeks = int(rng.integers(2, 4)), int(rng.integers(12, 17)); window = range(3, weeks - 2)
    of = rng.integers(0, 6, (2 * units, weeks)); missed = rng.binomial(of, 0.45)
    def effect(starts):
        top = bottom = 0.0
        for s in range(2 * units):
            cut = starts[s // 2]; n, m = of[s, :cut].sum(), of[s, cut:].sum()
            if n and m:
                top += n * m / (n + m) * (missed[s, :cut].sum() / n - missed[s, cut:].sum() / m); bottom += n * m / (n + m)
        return top / bottom
    all_draws = list(permutations(window, units)); own = all_draws[int(rng.integers(0, len(all_draws)))]
    e = effect(own); p = sum(effect(d) >= e - 1e-9 for d in all_draws) / len(all_draws)
    print("drawn", units, weeks, *own, *of.ravel().tolist(), *missed.ravel().tolist(), repr(float(e)), repr(float(p)), len(all_draws))
"#;

#[test]
fn independent_implementations_agree() {
    let python = Command::new("python3").args(["-c", SCRIPT]).output();
    let Some(said) = python.ok().filter(|o| o.status.success()) else {
        left_out("python3 with statsmodels is not there");
        return;
    };
    let text = String::from_utf8(said.stdout).unwrap();
    let mut counted = 0;
    for line in text.lines() {
        let (name, rest) = line.split_once(' ').unwrap();
        let numbers: Vec<f64> = rest.split(' ').map(|n| n.parse().unwrap()).collect();
        check(name, &numbers);
        counted += 1;
    }
    assert_eq!(counted, 491);
}

fn near(ours: f64, theirs: f64, what: &str) {
    assert!(
        (ours - theirs).abs() < 1e-9 * (1.0 + theirs.abs()),
        "{what}: {ours} is not {theirs}"
    );
}

fn rate(part: f64, of: f64) -> Rate {
    Rate::new(part as u64, of as u64)
}

fn check(name: &str, n: &[f64]) {
    match name {
        "wilson" => {
            let ours = rate(n[0], n[1]).wilson();
            near(ours.low, n[2], name);
            near(ours.high, n[3], name);
        }
        "mean" => {
            let (values, theirs) = n.split_at(n.len() - 3);
            let (m, interval) = mean(values).unwrap();
            let ours = interval.unwrap();
            near(m, theirs[0], name);
            // Our table has three decimals.
            let wide = theirs[2] - theirs[1];
            assert!(
                (ours.low - theirs[1]).abs() < 0.001 * wide,
                "{ours:?}, {theirs:?}"
            );
            assert!(
                (ours.high - theirs[2]).abs() < 0.001 * wide,
                "{ours:?}, {theirs:?}"
            );
        }
        "newcombe" => {
            let (_, ours) = difference(rate(n[0], n[1]), rate(n[2], n[3]));
            near(ours.low, n[4], name);
            near(ours.high, n[5], name);
        }
        "mantel" => {
            let (theirs, tables) = n.split_last().unwrap();
            let strata: Vec<Stratum> = tables
                .chunks(4)
                .map(|t| Stratum {
                    inside: rate(t[0], t[0] + t[1]),
                    outside: rate(t[2], t[2] + t[3]),
                })
                .collect();
            near(compare(&strata).unwrap().z.powi(2), *theirs, name);
        }
        "bh" => {
            let (p, found) = n.split_at(n.len() / 2);
            let theirs: Vec<bool> = found.iter().map(|f| *f > 0.5).collect();
            assert_eq!(discoveries(p, 0.1), theirs);
        }
        "brier" => {
            let (pairs, theirs) = n.split_at(n.len() - 4);
            let (stated, came) = pairs.split_at(pairs.len() / 2);
            let both = stated.iter().zip(came);
            let forecasts: Vec<Forecast> = both
                .map(|(s, c)| Forecast {
                    stated: *s,
                    came: *c,
                })
                .collect();
            // 101 groups: none holds two different forecasts.
            let ours = brier(&forecasts, 101).unwrap();
            for (ours, theirs) in [
                ours.score,
                ours.reliability,
                ours.resolution,
                ours.uncertainty,
            ]
            .into_iter()
            .zip(theirs)
            {
                near(ours, *theirs, name);
            }
        }
        "three" => {
            let (tries, theirs) = n.split_at(n.len() - 3);
            let (clocks, solved) = tries.split_at(tries.len() / 2);
            let both = clocks.iter().zip(solved);
            let tries: Vec<Try> = both
                .map(|(clock, solved)| Try {
                    ladder: 1,
                    wall_ms: 0,
                    clock_ms: (clock * 1000.0) as u64,
                    used_ms: 0,
                    solved: *solved > 0.5,
                    sound: 0,
                    needed: 0,
                })
                .collect();
            let ours = threshold(&tries).unwrap();
            near(ours.seconds, theirs[0], name);
            near(ours.interval.low, theirs[1], name);
            near(ours.interval.high, theirs[2], name);
        }
        "drawn" => {
            let (units, weeks) = (n[0] as usize, n[1] as usize);
            let whole = |of: &[f64]| of.iter().map(|x| *x as usize).collect::<Vec<usize>>();
            let (starts, rest) = n[2..].split_at(units);
            let (of, rest) = rest.split_at(2 * units * weeks);
            let (missed, theirs) = rest.split_at(2 * units * weeks);
            let pairs = of.chunks(weeks).zip(missed.chunks(weeks)).enumerate();
            let series: Vec<Series> = pairs
                .map(|(at, (of, missed))| Series {
                    unit: at / 2,
                    times: missed.iter().zip(of).map(|(m, o)| rate(*m, *o)).collect(),
                })
                .collect();
            let ours = test(&series, &whole(starts), &draws(units, 3, weeks - 3)).unwrap();
            near(ours.effect, theirs[0], name);
            near(ours.p, theirs[1], name);
            assert_eq!(ours.draws, theirs[2] as usize);
        }
        other => panic!("unknown check {other}"),
    }
}
