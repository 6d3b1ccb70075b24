//! How often the experiment with one's own practice finds an effect, and how often it finds one where there is none.
//!
//!     cargo bench --bench experiment
//!
//! Invented players miss 45 of 100 of each habit, weeks that resemble each other (an autoregressive part of .5 with a standard deviation of
//! some 8 points) and 5 points better at the end in any case; from the start of its block on a habit is missed less by the effect. 1,000
//! experiments a row; the error of a share is 1.6 points at most.

use foreply::board::random::SplitMix;
use foreply::progress::stats::Rate;
use foreply::progress::stats::randomisation::{Series, draws, test};

const RUNS: usize = 1000;
const BASE: f64 = 0.45;
const TREND: f64 = 0.05;

fn main() {
    println!("habits  weeks  cases a week  no effect  10 points  20 points  30 points");
    for habits in [2, 3] {
        for weeks in [12usize, 16, 26] {
            for cases in [3, 6, 12] {
                let row = [0.0, 0.1, 0.2, 0.3].map(|drop| found(habits, weeks, cases, drop));
                println!(
                    "{habits:>6}  {weeks:>5}  {cases:>12}  {:>9}  {:>9}  {:>9}  {:>9}",
                    row[0], row[1], row[2], row[3]
                );
            }
        }
    }
}

/// Found in so many of 100.
fn found(habits: usize, weeks: usize, cases: usize, drop: f64) -> u64 {
    let all = draws(habits, 3, weeks - 3);
    let mut random = SplitMix(1992);
    let mut share = move || (random.roll() >> 11) as f64 / (1u64 << 53) as f64;
    let mut hits = 0;
    for _ in 0..RUNS {
        let starts = &all[(share() * all.len() as f64) as usize];
        let mut week = 0.0;
        let level: Vec<f64> = (0..weeks)
            .map(|w| {
                week = 0.5 * week + 0.24 * (share() - 0.5);
                BASE + week - TREND * w as f64 / weeks as f64
            })
            .collect();
        let mut series = Vec::new();
        for (unit, start) in starts.iter().enumerate() {
            let mut times = Vec::new();
            for (w, level) in level.iter().enumerate() {
                let missed = level - if w >= *start { drop } else { 0.0 };
                let mut rate = Rate::default();
                (0..cases).for_each(|_| rate.add(share() < missed));
                times.push(rate);
            }
            series.push(Series { unit, times });
        }
        hits += usize::from(test(&series, starts, &all).is_some_and(|t| t.p <= 0.05));
    }
    (hits * 100 + RUNS / 2) as u64 / RUNS as u64
}
