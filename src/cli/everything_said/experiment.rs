//! What an experiment with one's own practice holds.

use super::{Value, any_of, value};
use crate::progress::Feature;
use crate::progress::experiment::{
    ExperimentReport, ExperimentState, HabitCounts, Measured, TestResult, Verdict,
};
use crate::progress::stats::{Interval, Rate};

pub(super) fn of_experiment(of: &ExperimentReport) -> Vec<Value> {
    let ExperimentReport {
        from,
        to,
        weeks,
        state: _,
        // Of one that goes on alone.
        week: _,
        check,
        seed,
        habits,
        test,
        verdict,
        earlier,
    } = of;
    let mut all = vec![
        value("first day of an experiment", from),
        value("last day of an experiment", to),
        value("weeks of an experiment", weeks),
        value("sum over the draw", check),
        value("seed of the draw", seed.unwrap_or_default()),
        any_of(
            "verdict on an experiment",
            &[verdict.words(), "Not to be told", "\"not-to-be-told\""],
        ),
        value("experiments before", earlier),
    ];
    for HabitCounts {
        feature: _,
        words,
        start,
        drills,
        games,
    } in habits
    {
        all.push(any_of("habit of an experiment", &[words, "Zqtried"]));
        all.push(value("first week of a block", start.unwrap_or_default()));
        all.extend([drills, games].into_iter().flat_map(of_measured));
    }
    if let Some(TestResult {
        effect,
        p,
        draws,
        power,
    }) = test
    {
        all.extend([
            any_of(
                "effect of an experiment",
                &[
                    &format!("{:.0} points", effect * 100.0),
                    &effect.to_string(),
                ],
            ),
            value("p of an experiment", p),
            value("draws of an experiment", draws),
            value("power of an experiment", power),
        ]);
    }
    all
}

fn of_measured(of: &Measured) -> Vec<Value> {
    let Measured {
        before,
        after,
        before_interval: Interval { low, high: _ },
        after_interval: _,
    } = of;
    let mut all = vec![any_of(
        "interval before a block",
        &[&format!("{:.0}-", low * 100.0), &low.to_string()],
    )];
    for Rate { part, of } in [before, after] {
        all.extend([
            value("missed in an experiment", part),
            value("cases in an experiment", of),
        ]);
    }
    all
}

fn rate(part: u64, of: u64) -> Rate {
    Rate { part, of }
}

fn measured(part: u64) -> Measured {
    let (before, after) = (rate(part, 1_301), rate(part + 2, 1_303));
    Measured {
        before,
        after,
        before_interval: before.wilson(),
        after_interval: after.wilson(),
    }
}

pub(super) fn filled() -> ExperimentReport {
    ExperimentReport {
        from: jiff::civil::date(2026, 5, 4),
        to: jiff::civil::date(2026, 8, 24),
        weeks: 1_307,
        state: ExperimentState::Over,
        week: None,
        check: "zqcheck".to_owned(),
        seed: Some(1_319),
        habits: vec![HabitCounts {
            feature: Feature::all().next().unwrap(),
            words: "zqtried",
            start: Some(1_321),
            drills: measured(619),
            games: measured(631),
        }],
        test: Some(TestResult {
            effect: 0.4713,
            p: 0.873,
            draws: 1_327,
            power: 1_361,
        }),
        verdict: Verdict::NotToBeTold,
        earlier: 1_367,
    }
}
