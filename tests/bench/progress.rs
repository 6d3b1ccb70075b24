//! Counting 100,000 trials: `cargo bench --bench progress`. The goal is 200 ms.

use std::time::Instant;

use foreply::attempt::Sight;
use foreply::progress::{Bits, Counted, Feature, Outcome, Source, main_group, spots};
use foreply::store::Store;

fn main() {
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
