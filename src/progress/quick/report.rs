//! What quick calculation comes to: ladder by ladder, week by week, and what speed costs.

use std::collections::BTreeMap;

use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde::Serialize;

use super::threshold::{Threshold, threshold};
use super::{LADDERS, LadderKind, Try, next_clock_ms};
use crate::progress::course::{as_text, monday};
use crate::progress::difficulty::{Difficulty, difficulty};
use crate::progress::record::{AttemptStatistics, Source};
use crate::progress::stats::mantel::{Stratum, compare};
use crate::progress::stats::many::discoveries;
use crate::progress::stats::{Interval, Rate, mean};
use crate::review::StoredFindingKind;

/// Attempts at speed from which on a kind of error is asked about.
pub const SPEED_MIN: u64 = 20;
/// Share of false ones among the kinds that are said to come of speed.
const FALSE_SHARE: f64 = 0.10;

/// What is known of one ladder besides its tries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct QuickGiven {
    pub ladder: u8,
    /// Positions of the ladder, and those that were never tried.
    pub positions: usize,
    pub left: usize,
    /// The clock of the first try, in milliseconds.
    pub first_ms: u64,
}

/// Quick calculation, all of it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Quick {
    /// The ladders, the easiest first.
    pub ladders: Vec<Ladder>,
    /// Kinds of findings at speed against sittings without a hurry, the clearest first.
    pub errors: Vec<SpeedError>,
}

/// One ladder.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Ladder {
    /// From 1 on.
    pub number: u8,
    /// Half-moves that its positions need: '11 to 13'.
    pub needed: String,
    /// Grades of its positions, 1 to 5: '2 to 3'.
    pub grades: String,
    pub positions: usize,
    /// Positions that were never tried.
    pub left: usize,
    /// Reviewed tries: solved of all.
    pub solved: Rate,
    /// The clock of the next try, in milliseconds.
    pub clock_ms: u64,
    /// At which clock three of four are solved; `None` below eight tries.
    pub threshold: Option<Threshold>,
    pub weeks: Vec<QuickWeek>,
}

/// One week of a ladder, from Monday on, in the player's own time zone.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct QuickWeek {
    /// Its Monday.
    #[serde(serialize_with = "as_text")]
    #[schemars(with = "String")]
    pub from: Date,
    pub solved: Rate,
    /// Geometric mean of its clocks, in milliseconds.
    pub clock_ms: u64,
    /// Half-moves of the solution that were sound, for each minute until the lock: mean of the tries.
    pub per_minute: f64,
    /// 95 % of it; `None` where there is one try.
    pub interval: Option<Interval>,
}

/// A kind of finding: how often at speed, how often without.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct SpeedError {
    pub kind: StoredFindingKind,
    /// Attempts with it of all, at speed and without a hurry, at difficulties that both have.
    pub quick: Rate,
    pub calm: Rate,
    /// How much more often at speed, within equal difficulty (needed depth, plausible moves); -1 to 1.
    pub difference: f64,
    /// Its 95 % interval.
    pub interval: Interval,
    /// True where it is more often at speed, and not by chance (Benjamini and Hochberg at 10 % over all kinds).
    pub of_speed: bool,
    /// False where there are too few attempts to say anything.
    pub enough: bool,
}

/// The figures of the tries, in the order of making, and of the reviewed first sights (`all`: those at speed and the others).
#[must_use]
pub fn quick(
    tries: &[Try],
    given: &[QuickGiven],
    all: &[&AttemptStatistics],
    zone: &TimeZone,
) -> Quick {
    Quick {
        ladders: LADDERS
            .iter()
            .map(|kind| ladder(kind, tries, given, zone))
            .collect(),
        errors: errors(all),
    }
}

impl Quick {
    /// True where nothing was tried yet.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.ladders.iter().all(|l| l.solved.of == 0)
    }
}

fn ladder(kind: &LadderKind, tries: &[Try], given: &[QuickGiven], zone: &TimeZone) -> Ladder {
    let own: Vec<Try> = tries
        .iter()
        .filter(|t| t.ladder == kind.number)
        .copied()
        .collect();
    let given = given.iter().find(|g| g.ladder == kind.number);
    let given = given.copied().unwrap_or_default();
    let mut weeks: BTreeMap<Date, Vec<Try>> = BTreeMap::new();
    for one in &own {
        if let Some(from) = monday(one.wall_ms, zone) {
            weeks.entry(from).or_default().push(*one);
        }
    }
    Ladder {
        number: kind.number,
        needed: span(*kind.needed.start(), *kind.needed.end()),
        grades: span(
            usize::from(*kind.grades.start()),
            usize::from(*kind.grades.end()),
        ),
        positions: given.positions,
        left: given.left,
        solved: solved(&own),
        clock_ms: next_clock_ms(&own, given.first_ms),
        threshold: threshold(&own),
        weeks: weeks
            .into_iter()
            .map(|(from, of)| week(from, &of))
            .collect(),
    }
}

fn span(from: usize, to: usize) -> String {
    match from == to {
        true => from.to_string(),
        false => tr!("{from} to {to}"),
    }
}

fn solved(tries: &[Try]) -> Rate {
    let mut rate = Rate::default();
    tries.iter().for_each(|t| rate.add(t.solved));
    rate
}

fn week(from: Date, tries: &[Try]) -> QuickWeek {
    let rates: Vec<f64> = tries.iter().map(per_minute).collect();
    let octaves = tries.iter().map(|t| (t.clock_ms.max(1) as f64).log2());
    let (mean, interval) = mean(&rates).unwrap_or_default();
    QuickWeek {
        from,
        solved: solved(tries),
        clock_ms: (octaves.sum::<f64>() / tries.len().max(1) as f64)
            .exp2()
            .round() as u64,
        per_minute: mean,
        interval: interval.map(|i| i.within(0.0, f64::MAX)),
    }
}

/// Half-moves sound in a minute. What took less than a second is taken to be one.
fn per_minute(of: &Try) -> f64 {
    let minutes = of.used_ms.max(1000) as f64 / 60_000.0;
    f64::from(of.sound.min(of.needed)) / minutes
}

/// Every kind of finding that occurred at speed.
fn errors(all: &[&AttemptStatistics]) -> Vec<SpeedError> {
    let (fast, calm): (Vec<&AttemptStatistics>, Vec<_>) = all
        .iter()
        .copied()
        .filter(|c| c.first && c.needed > 0)
        .filter(|c| matches!(c.source, Source::Quick | Source::Sitting))
        .partition(|c| c.source == Source::Quick);
    let mut kinds: Vec<StoredFindingKind> = fast.iter().flat_map(|c| c.kinds.clone()).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let mut found: Vec<(f64, SpeedError)> = kinds
        .into_iter()
        .filter_map(|kind| error(kind, &fast, &calm))
        .collect();
    let asked = |e: &(f64, SpeedError)| e.1.enough;
    let p: Vec<f64> = found.iter().filter(|e| asked(e)).map(|e| e.0).collect();
    let told = discoveries(&p, FALSE_SHARE);
    for ((_, error), more) in found.iter_mut().filter(|e| asked(e)).zip(told) {
        error.of_speed = more && error.interval.low > 0.0;
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.into_iter().map(|(_, error)| error).collect()
}

/// One kind with its one-sided p; `None` where nothing can be compared.
fn error(
    kind: StoredFindingKind,
    fast: &[&AttemptStatistics],
    calm: &[&AttemptStatistics],
) -> Option<(f64, SpeedError)> {
    let mut strata: BTreeMap<Difficulty, Stratum> = BTreeMap::new();
    for of in fast {
        let stratum = strata.entry(difficulty(of)).or_default();
        stratum.inside.add(of.kinds.contains(&kind));
    }
    for of in calm {
        if let Some(stratum) = strata.get_mut(&difficulty(of)) {
            stratum.outside.add(of.kinds.contains(&kind));
        }
    }
    let strata: Vec<Stratum> = strata.into_values().collect();
    let compared = compare(&strata)?;
    let enough = compared.inside.of >= SPEED_MIN && compared.outside.of >= SPEED_MIN;
    Some((
        compared.p,
        SpeedError {
            kind,
            quick: compared.inside,
            calm: compared.outside,
            difference: compared.difference,
            interval: compared.interval,
            of_speed: false,
            enough,
        },
    ))
}
