//! Counting 100,000 trials, for which the goal is 200 ms, and the power curve: after how many attempts is a planted
//! weakness named? `cargo bench --bench progress [-- --runs N] [--attempts N]`: 400 runs for each row of the curve, 0
//! for none of it. Then homes with a tenth of so many attempts (100,000) and with all of them: what has to read them
//! should take ten times as long, not more.

use std::time::Instant;

use foreply::app::{App, Config, HistoryEntry, Subject};
use foreply::attempt::{AttemptEvent, BoardVisibility, Opened, Origin, TimedAttemptEvent};
use foreply::progress::{
    AttemptStatistics, Bits, Feature, Moment, Moments, Outcome, Sighted, Source, main_group, spots,
};
use foreply::store::{Store, StoreError};
use foreply::tree::NodeId;
use jiff::tz::TimeZone;

#[path = "../support/player.rs"]
mod player;

use player::{Player, course, found};

/// 2026-11-25, 12:00 UTC.
const EPOCH_MS: i64 = 1_795_608_000_000;
/// Attempts after which the counts are looked at.
const AFTER: [usize; 8] = [25, 50, 75, 100, 150, 200, 300, 400];
/// Share of runs from which on a weakness counts as found (common practice, no source).
const POWER: f64 = 0.80;

fn main() {
    counting();
    let runs = number("--runs").unwrap_or(400);
    if runs > 0 {
        power_curve(runs);
    }
    let attempts = number("--attempts").unwrap_or(100_000) as usize;
    let tenth = home(attempts / 10);
    let whole = home(attempts);
    println!(
        "{:<24}{:>8}{:>10}  times",
        "ms with attempts:",
        attempts / 10,
        attempts
    );
    for ((what, small), (_, large)) in tenth.into_iter().zip(whole) {
        println!("{what:<24}{small:>8.1}{large:>10.1}  {:.1}", large / small);
    }
}

fn number(name: &str) -> Option<u64> {
    let words: Vec<String> = std::env::args().collect();
    let at = words.iter().position(|word| word == name)?;
    words.get(at + 1)?.parse().ok()
}

/// What is done first with a home of so many attempts, and the milliseconds it takes.
fn home(attempts: usize) -> Vec<(&'static str, f64)> {
    let home = tempfile::tempdir().expect("a folder");
    fill(&Store::open(home.path()).expect("a store"), attempts).expect("kept");
    let mut times = Vec::new();
    let mut config = Config::new(home.path().to_owned());
    config.writing = true;
    let app = timed(&mut times, "open", || App::open(config).expect("a store"));
    timed(&mut times, "what to practise", || {
        app.practice().next(20).expect("drills")
    });
    timed(&mut times, "history", || {
        app.attempts().history().expect("attempts")
    });
    let report = timed(&mut times, "progress", || {
        app.progress().report(&TimeZone::UTC).expect("a report")
    });
    assert_eq!(report.attempts, attempts);
    timed(&mut times, "blind spots", || {
        app.progress().blind_spots().expect("spots")
    });
    timed(&mut times, "home again", || {
        app.practice().next(20).expect("drills")
    });
    let subject = Subject::Drill(app.drills().all()[0].id.clone());
    timed(&mut times, "one sitting more", || {
        let mut sitting = app
            .attempts()
            .open_sitting(&subject, None, BoardVisibility::Root)
            .expect("opened");
        sitting.start().expect("kept");
        sitting.leave().expect("kept");
    });
    app.maintenance().leave();
    drop(app);
    // What was counted was saved at the end: the next start goes on from there.
    let mut config = Config::new(home.path().to_owned());
    config.writing = true;
    let app = timed(&mut times, "next start", || {
        App::open(config).expect("a store")
    });
    timed(&mut times, "its first home", || {
        app.practice().next(20).expect("drills")
    });
    app.maintenance().leave();
    times
}

fn timed<T>(
    times: &mut Vec<(&'static str, f64)>,
    what: &'static str,
    work: impl FnOnce() -> T,
) -> T {
    let begun = Instant::now();
    let done = work();
    times.push((what, begun.elapsed().as_secs_f64() * 1000.0));
    done
}

/// Attempts with a log of four events, a summary, counts and moments: what a start has to read of each.
fn fill(store: &Store, attempts: usize) -> Result<(), StoreError> {
    let opened = |i: usize| {
        AttemptEvent::Opened(Opened {
            origin: Origin::Position,
            start_fen: "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1".to_owned(),
            past: Vec::new(),
            budget_ms: Some(480_000),
            sight: BoardVisibility::Root,
            wall_ms: EPOCH_MS + i as i64,
            quick: None,
        })
    };
    let mut batch = store.batch();
    for i in 0..attempts {
        let name = format!("{:013}-0000", EPOCH_MS + i as i64);
        let added = AttemptEvent::Added {
            parent: NodeId::ROOT,
            text: "c7".to_owned(),
        };
        let whats = [
            opened(i),
            AttemptEvent::Started,
            added,
            AttemptEvent::Locked,
        ];
        let log = whats.map(|what| TimedAttemptEvent { at_ms: 0, what });
        batch.put_log(&name, &log)?;
        let counted = attempt(i);
        let summary = HistoryEntry {
            wall_ms: EPOCH_MS + i as i64,
            origin: Origin::Position,
            used_ms: 300_000,
            choice: "c7".to_owned(),
            moves: 12,
            reviewed: None,
            black: Some(false),
            budget_ms: Some(480_000),
            quick: None,
        };
        batch.put(&name, &summary)?;
        let sighted = Sighted {
            attempt: name.clone(),
        };
        batch.put(&counted.root, &sighted)?;
        let moment = Moment {
            path: vec!["c7".to_owned(), "Rd6+".to_owned()],
            resource: "Kb5".to_owned(),
        };
        let moments = vec![moment; counted.trials.len()];
        batch.put(&name, &Moments { moments })?;
        batch.put(&name, &counted)?;
        if batch.bytes() > 1 << 20 {
            std::mem::replace(&mut batch, store.batch()).keep()?;
        }
    }
    batch.keep()
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
    let all: Vec<(String, AttemptStatistics)> = store.scan().expect("read");
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

fn attempt(i: usize) -> AttemptStatistics {
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
    AttemptStatistics {
        wall_ms: i as i64 * 3_600_000,
        root: format!("r{i}"),
        source: Source::Sitting,
        sight: BoardVisibility::Root,
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
