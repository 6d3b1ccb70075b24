//! What an experiment has come to.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde::Serialize;

use super::power::{LEVEL, found_of_100};
use super::{Experiment, GameMisses, WEEK_MS};
use crate::progress::count::counts_for;
use crate::progress::course::as_text;
use crate::progress::feature::{Bits, Feature};
use crate::progress::record::AttemptStatistics;
use crate::progress::stats::randomisation::{Series, test};
use crate::progress::stats::{Interval, Rate};

/// The effect whose power is told: so much less of the cases missed.
pub const DROP: f64 = 0.20;

/// An experiment and what it has come to.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct ExperimentReport {
    /// Its first day, in the player's own time zone.
    #[serde(serialize_with = "as_text")]
    #[schemars(with = "String")]
    pub from: Date,
    /// The first day after it.
    #[serde(serialize_with = "as_text")]
    #[schemars(with = "String")]
    pub to: Date,
    pub weeks: u32,
    pub state: ExperimentState,
    /// The week that is on, from 1 on; missing when it is over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub week: Option<u32>,
    /// The sum over the draw: the same from beginning to end.
    pub check: String,
    /// The seed of the draw: told when it is over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seed: Option<u64>,
    pub habits: Vec<HabitCounts>,
    /// The test; told when it is over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub test: Option<TestResult>,
    pub verdict: Verdict,
    /// Experiments before this one.
    pub earlier: usize,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ExperimentState {
    Running,
    Over,
    /// He gave it up.
    Stopped,
}

/// One habit: what was missed of all that held it.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct HabitCounts {
    pub feature: Feature,
    pub words: &'static str,
    /// The week from which it is practised, from 1 on; missing while that is to come.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start: Option<u32>,
    pub drills: Measured,
    pub games: Measured,
}

/// Cases before its practice and from then on.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Measured {
    pub before: Rate,
    pub after: Rate,
    /// 95 % of each (Wilson).
    pub before_interval: Interval,
    pub after_interval: Interval,
}

/// What the randomisation says.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, schemars::JsonSchema)]
pub struct TestResult {
    /// Before less after over all series, -1 to 1: positive where fewer were missed after.
    pub effect: f64,
    /// One-sided: the share of draws with an effect at least as great.
    pub p: f64,
    /// Draws that could have been.
    pub draws: usize,
    /// In how many of 100 experiments with as many cases an effect of 20 points would be found.
    pub power: u32,
}

/// What may be said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Fewer misses from the blocks on than chance gives in one of twenty draws.
    Works,
    /// Over, and not to be told from chance.
    NotToBeTold,
    NotYet,
    /// Stopped, so it is not tested.
    NotTested,
}

impl Verdict {
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Works => tr!("the practice works, with evidence"),
            Self::NotToBeTold => tr!("not to be told from chance"),
            Self::NotYet => tr!("not yet to be told"),
            Self::NotTested => tr!("stopped, so it is not tested"),
        }
    }
}

/// The series: for each habit one of drills and one of games. What lies outside the weeks is left out.
#[must_use]
pub fn measured(
    experiment: &Experiment,
    attempts: &[&AttemptStatistics],
    games: &[GameMisses],
) -> Vec<[Series; 2]> {
    let weeks = experiment.weeks as usize;
    let series = |unit| Series {
        unit,
        times: vec![Rate::default(); weeks],
    };
    let mut all = Vec::new();
    for (unit, (feature, _)) in experiment.blocks().enumerate() {
        let (mut drills, mut played) = (series(unit), series(unit));
        let counted = attempts.iter().filter(|c| c.is_first_sitting());
        for c in counted.filter(|c| experiment.measures(&c.root)) {
            let case = counts_for(&c.trials, feature).and_then(|at| c.trials.get(at));
            put(experiment, &mut drills, c.wall_ms, case);
        }
        for game in games {
            let held = game.cases.iter().filter(|bits| bits.has(feature));
            for case in held {
                if let Some(date) = game.date_ms {
                    // A game has a day and no hour: the day on which the experiment began counts.
                    let date = date.saturating_add(super::DAY_MS - 1);
                    put(experiment, &mut played, date, Some(case));
                }
            }
        }
        all.push([drills, played]);
    }
    all
}

fn put(experiment: &Experiment, series: &mut Series, at_ms: i64, case: Option<&Bits>) {
    let week = experiment.week_of(at_ms);
    let rate = week.and_then(|w| series.times.get_mut(w as usize));
    if let (Some(rate), Some(case)) = (rate, case) {
        rate.add(!case.seen());
    }
}

/// The report at `now_ms`. `earlier` experiments were made before.
#[must_use]
pub fn report(
    experiment: &Experiment,
    series: &[[Series; 2]],
    now_ms: i64,
    earlier: usize,
    zone: &TimeZone,
) -> ExperimentReport {
    let running = experiment.is_running(now_ms);
    let state = match (experiment.stopped_ms, running) {
        (Some(_), _) => ExperimentState::Stopped,
        (None, true) => ExperimentState::Running,
        (None, false) => ExperimentState::Over,
    };
    let week = experiment.week_of(now_ms).filter(|_| running);
    let come = |start: u32| !running || week.is_some_and(|w| w >= start);
    let habits = experiment.blocks().zip(series);
    let habits = habits.map(|((feature, start), [drills, games])| HabitCounts {
        feature,
        words: feature.words(),
        start: come(start).then_some(start + 1),
        drills: split(drills, start as usize),
        games: split(games, start as usize),
    });
    let test = (state == ExperimentState::Over).then(|| tested(experiment, series));
    let test = test.flatten();
    let verdict = match (state, test) {
        (ExperimentState::Stopped, _) => Verdict::NotTested,
        (ExperimentState::Running, _) => Verdict::NotYet,
        (ExperimentState::Over, Some(t)) if t.p <= LEVEL => Verdict::Works,
        (ExperimentState::Over, _) => Verdict::NotToBeTold,
    };
    let end = experiment
        .from_ms
        .saturating_add(WEEK_MS * i64::from(experiment.weeks));
    ExperimentReport {
        from: day(experiment.from_ms, zone),
        to: day(experiment.stopped_ms.unwrap_or(end), zone),
        weeks: experiment.weeks,
        state,
        week: week.map(|w| w + 1),
        check: experiment.check(),
        seed: (!running).then_some(experiment.seed),
        habits: habits.collect(),
        test,
        verdict,
        earlier,
    }
}

fn day(at_ms: i64, zone: &TimeZone) -> Date {
    let at = Timestamp::from_millisecond(at_ms).unwrap_or_default();
    at.to_zoned(zone.clone()).date()
}

fn split(series: &Series, start: usize) -> Measured {
    let sum = |of: &[Rate]| of.iter().fold(Rate::default(), |all, r| all.with(*r));
    let (early, late) = series.times.split_at_checked(start).unwrap_or_default();
    let (before, after) = (sum(early), sum(late));
    Measured {
        before,
        after,
        before_interval: before.wilson(),
        after_interval: after.wilson(),
    }
}

fn tested(experiment: &Experiment, series: &[[Series; 2]]) -> Option<TestResult> {
    let all: Vec<Series> = series.iter().flatten().cloned().collect();
    let starts: Vec<usize> = experiment.starts.iter().map(|s| *s as usize).collect();
    let draws = experiment.draws();
    let found = test(&all, &starts, &draws)?;
    Some(TestResult {
        effect: found.effect,
        p: found.p,
        draws: found.draws,
        power: found_of_100(&all, &draws, DROP),
    })
}
