use jiff::tz::TimeZone;

use super::power::share;
use super::*;
use crate::progress::AttemptStatistics;
use crate::progress::record::tests::plain;
use crate::progress::stats::Rate;
use crate::progress::stats::randomisation::{Series, test};

fn names() -> Vec<String> {
    ["replies-that-give-up", "backward-moves"]
        .map(str::to_owned)
        .into()
}

fn drawn(seed: u64) -> Experiment {
    Experiment::draw(0, 12, &names(), seed).unwrap()
}

#[test]
fn the_draw_is_of_the_seed_alone_and_uniform() {
    assert_eq!(drawn(7), drawn(7));
    let mut counts = std::collections::BTreeMap::new();
    for seed in 0..42_000 {
        *counts.entry(drawn(seed).starts).or_insert(0u32) += 1;
    }
    // Seven weeks for the first, six for the second. Chi-square of 41 degrees of freedom: 74.7 is its 99.9 % quantile (table).
    assert_eq!(counts.len(), 42);
    let chi: f64 = counts
        .values()
        .map(|n| (f64::from(*n) - 1000.0).powi(2) / 1000.0)
        .sum();
    assert!(chi < 74.7, "{chi}");
    for starts in counts.keys() {
        assert!(starts.iter().all(|s| (3..=9).contains(s)) && starts[0] != starts[1]);
    }
}

#[test]
fn what_no_experiment_can_be_about() {
    let of = |names: &[&str], weeks| {
        let names: Vec<String> = names.iter().map(|n| (*n).to_owned()).collect();
        Experiment::draw(0, weeks, &names, 1).map(|_| ())
    };
    let twice = ["captures", "captures"];
    assert_eq!(of(&twice, 12), Err(ExperimentError::Habits));
    assert_eq!(of(&["captures"], 12), Err(ExperimentError::Habits));
    let four = ["captures", "checks", "pins-made", "mates"];
    assert_eq!(of(&four, 12), Err(ExperimentError::Habits));
    assert_eq!(of(&twice[..1], 5), Err(ExperimentError::Habits));
    assert_eq!(of(&["captures", "checks"], 11), Err(ExperimentError::Weeks));
    // Nothing that a position holds.
    let wrong = of(&["captures", "little-time"], 12).unwrap_err();
    assert!(
        wrong.to_string().contains("'little-time'; these are: "),
        "{wrong}"
    );
}

#[test]
fn weeks_and_blocks() {
    let mut of = drawn(7);
    of.starts = vec![3, 5];
    let at = |week: i64| week * WEEK_MS + 1;
    assert_eq!(
        (of.week_of(at(0)), of.week_of(at(11)), of.week_of(at(12))),
        (Some(0), Some(11), None)
    );
    assert_eq!((of.week_of(-1), of.practised(at(2)).len()), (None, 0));
    assert_eq!(
        of.practised(at(3)),
        [Feature::named("replies-that-give-up").unwrap()]
    );
    assert_eq!(of.practised(at(5)).len(), 2);
    assert!(of.is_running(at(11)) && !of.is_running(at(12)));
    // About half of the positions are for measuring.
    let half = (0..1000)
        .filter(|i| of.measures(&format!("root {i}")))
        .count();
    assert!((450..550).contains(&half), "{half}");
    of.stopped_ms = Some(at(6));
    assert_eq!((of.is_running(at(7)), of.week_of(at(7))), (false, None));
    let check = of.check();
    of.starts = vec![3, 6];
    assert_ne!(check, of.check());
}

/// An attempt of a week at a position of the measuring half, or of the other, that missed a habit or saw it.
fn attempt(of: &Experiment, week: i64, missed: bool, measuring: bool) -> AttemptStatistics {
    let mut roots = (0..).map(|i| format!("root {i}"));
    let root = roots.find(|r| of.measures(r) == measuring).unwrap();
    let habit = [Feature::named("backward-moves").unwrap()];
    let mut c = plain(week * WEEK_MS + DAY_MS);
    c.root = root;
    c.trials = vec![Bits::with(&habit, !missed)];
    c
}

#[test]
fn only_the_measuring_half_counts_and_the_test_comes_at_the_end() {
    let mut of = drawn(7);
    of.starts = vec![3, 6];
    let mut all: Vec<AttemptStatistics> = Vec::new();
    for week in 0..12 {
        all.extend((0..4).map(|_| attempt(&of, week, week < 6, true)));
        // Of the half that is practised with, and repeats: they are not measured.
        all.extend((0..9).map(|_| attempt(&of, week, true, false)));
        let mut again = attempt(&of, week, true, true);
        again.first = false;
        all.push(again);
    }
    let refs: Vec<&AttemptStatistics> = all.iter().collect();
    let habit = [Feature::named("backward-moves").unwrap()];
    let game = GameMisses {
        date_ms: Some(2 * WEEK_MS),
        cases: vec![Bits::with(&habit, false), Bits::with(&[], true)],
    };
    let undated = GameMisses {
        date_ms: None,
        ..game.clone()
    };
    let series = measured(&of, &refs, &[game, undated]);
    let told = |now: i64| report(&of, &series, now, 0, &TimeZone::UTC);
    let running = told(5 * WEEK_MS);
    assert_eq!(
        (running.week, running.seed, running.test),
        (Some(6), None, None)
    );
    assert_eq!(
        (running.habits[0].start, running.habits[1].start),
        (Some(4), None)
    );
    assert_eq!(running.verdict, Verdict::NotYet);
    let over = told(12 * WEEK_MS);
    let backward = &over.habits[1];
    assert_eq!(
        (
            backward.start,
            backward.drills.before,
            backward.drills.after
        ),
        (Some(7), Rate::new(24, 24), Rate::new(0, 24))
    );
    assert_eq!(
        (backward.games.before, backward.games.after),
        (Rate::new(1, 1), Rate::default())
    );
    let tested = over.test.unwrap();
    // One habit alone was measured: six draws of the other leave its week as it is.
    assert!((tested.p - 6.0 / 42.0).abs() < 1e-12, "{tested:?}");
    assert_eq!(
        (over.verdict, over.check == running.check),
        (Verdict::NotToBeTold, true)
    );
    let mut stopped = of.clone();
    stopped.stopped_ms = Some(5 * WEEK_MS);
    let stopped = report(&stopped, &series, 6 * WEEK_MS, 2, &TimeZone::UTC);
    assert_eq!((stopped.verdict, stopped.earlier), (Verdict::NotTested, 2));
}

/// One week after the other resembles it, and everything becomes better by itself: the level holds all the same; and what is large is
/// found. The table of the help is made by `cargo bench --bench experiment`.
#[test]
fn the_level_holds_and_a_large_effect_is_found() {
    let mut random = SplitMix(2020);
    let all = possible(12, 3);
    let mut found = |drop: f64| {
        let runs = 400;
        let hits = (0..runs).filter(|_| {
            let at = usize::try_from(random.roll() % all.len() as u64).unwrap();
            let starts = &all[at];
            let mut week = 0.0;
            let level: Vec<f64> = (0..12)
                .map(|w| {
                    week = 0.5 * week + 0.2 * (share(&mut random) - 0.5);
                    0.6 + week - 0.02 * f64::from(w)
                })
                .collect();
            let series: Vec<Series> = (0..3)
                .map(|unit| Series {
                    unit,
                    times: (0..12)
                        .map(|w| {
                            let after = w >= starts[unit];
                            let missed = level[w] - if after { drop } else { 0.0 };
                            let mut rate = Rate::default();
                            (0..6).for_each(|_| rate.add(share(&mut random) < missed));
                            rate
                        })
                        .collect(),
                })
                .collect();
            test(&series, starts, &all).unwrap().p <= 0.05
        });
        hits.count() as f64 / f64::from(runs)
    };
    let (none, large) = (found(0.0), found(0.4));
    assert!(
        none <= 0.08,
        "without an effect something was found in {none}"
    );
    assert!(large >= 0.5, "a large effect was found in {large}");
}

/// What is in the store must be read for ever.
#[test]
fn the_kept_form() {
    let json = serde_json::to_string(&drawn(7)).unwrap();
    assert!(json.starts_with(r#"{"from_ms":0,"weeks":12,"habits":["replies-that-give-up","backward-moves"],"seed":7,"starts":["#), "{json}");
    assert_eq!(serde_json::from_str::<Experiment>(&json).unwrap(), drawn(7));
}
