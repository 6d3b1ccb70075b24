//! Counting 100,000 trials, for which the goal is 200 ms, and the power curve: after how many attempts is a planted
//! weakness named? `cargo bench --bench progress [-- --runs N]`, 400 runs for each row of the curve.

use std::time::Instant;

use foreply::attempt::Sight;
use foreply::progress::{Bits, Counted, Feature, Outcome, Source, main_group, spots};
use foreply::store::Store;

#[path = "../support/player.rs"]
mod player;

use player::{Player, course, found};

/// Attempts after which the counts are looked at.
const AFTER: [usize; 8] = [25, 50, 75, 100, 150, 200, 300, 400];
/// Share of runs from which on a weakness counts as found (common practice, no source).
const POWER: f64 = 0.80;

fn main() {
    counting();
    let words: Vec<String> = std::env::args().collect();
    let at = words.iter().position(|word| word == "--runs");
    let runs = at.and_then(|at| words.get(at + 1)?.parse().ok());
    power_curve(runs.unwrap_or(400));
}

/// Prints in how many runs a weakness was named after so many attempts, and when that was in 80 % of them.
fn power_curve(runs: u64) {
    println!("named in so many % of {runs} runs, after attempts of four to nine moments:");
    print_row("planted", &AFTER.map(|n| n as f64), "80 % after");
    for points in [0.10, 0.20, 0.30] {
        for name in ["backward-moves", "replies-that-give-up", "little-time"] {
            let player = Player {
                weak: vec![(name, points)],
            };
            let row = found(&player, name, &AFTER, runs);
            let shares: Vec<f64> = row.iter().map(|(rate, _)| rate.share()).collect();
            let first = AFTER.iter().zip(&shares).find(|(_, s)| **s >= POWER);
            let first = first.map_or_else(|| "-".to_owned(), |(n, _)| n.to_string());
            let percent: Vec<f64> = shares.iter().map(|s| 100.0 * s).collect();
            print_row(
                &format!("{name}, {:.0} points", 100.0 * points),
                &percent,
                &first,
            );
        }
    }
    let mut wrong = [0u32; AFTER.len()];
    for run in 0..runs {
        let named = course(&Player::default(), &AFTER, run);
        for (sum, named) in wrong.iter_mut().zip(named) {
            *sum += u32::from(!named.is_empty());
        }
    }
    let percent = wrong.map(|n| 100.0 * f64::from(n) / runs as f64);
    print_row("no weakness, something named", &percent, "");
}

fn print_row(name: &str, cells: &[f64], last: &str) {
    let cells: String = cells.iter().map(|c| format!("{c:>6.0}")).collect();
    println!("{name:<36}{cells}  {last}");
}

fn counting() {
    let home = tempfile::tempdir().expect("a folder");
    let store = Store::open(home.path()).expect("a store");
    let attempts: usize = 12_500;
    let begun = Instant::now();
    for i in 0..attempts {
        store.put(&format!("a{i:06}"), &attempt(i)).expect("kept");
    }
    println!(
        "keeping {attempts} attempts of 8 trials: {:?} each",
        begun.elapsed() / attempts as u32
    );
    let begun = Instant::now();
    let all: Vec<(String, Counted)> = store.scan().expect("read");
    println!("reading them: {:?}", begun.elapsed());
    let begun = Instant::now();
    let found = spots(&main_group(&all));
    println!(
        "counting {} trials, {} properties: {:?}",
        attempts * 8,
        found.len(),
        begun.elapsed()
    );
}

fn attempt(i: usize) -> Counted {
    let all: Vec<Feature> = Feature::all().collect();
    let trial = |t: usize| {
        let some: Vec<Feature> = all
            .iter()
            .copied()
            .enumerate()
            .filter(|(k, _)| (i * 31 + t * 17 + k * 7).is_multiple_of(6))
            .map(|(_, f)| f)
            .collect();
        Bits::with(&some, !(i + t).is_multiple_of(3))
    };
    Counted {
        wall_ms: i as i64,
        root: format!("r{i}"),
        source: Source::Sitting,
        sight: Sight::Root,
        first: true,
        trials: (0..8).map(trial).collect(),
        verdicts: vec![(0.5, 0.5, 1); 3],
        standing: 0.5,
        kinds: Vec::new(),
        outcome: Outcome::Solved,
        needed: 3,
        reached: 3,
        sound: 3,
        plausible: 2,
        first_reply_ms: None,
        spent_ms: None,
        dropped_ms: None,
        forecast: None,
    }
}
