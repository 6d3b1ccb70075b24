//! Everything together: what `foreply progress` shows.

use std::collections::{BTreeMap, HashMap, HashSet};

use jiff::tz::TimeZone;
use serde::Serialize;

use super::account::{Account, Plan, account};
use super::causes::{Cause, causes};
use super::converting::{Advantage, Converting, Played, converting};
use super::course::{Week, weeks};
use super::difficulty::{Stratum, by_grade, strata};
use super::experiment::ExperimentReport;
use super::feature::sight_words;
use super::judgement::{Judgement, Results, judgement};
use super::quick::{Quick, QuickGiven, Try, quick};
use super::recognising::{Recognised, Recognising, recognising};
use super::record::{AttemptStatistics, Moment, Source};
use super::schedule::DAY_MS;
use super::spots::{Spot, spots};
use super::stats::Rate;
use crate::review::StoredFindingKind;

/// What is given for a report.
#[derive(Debug, Clone, Default)]
pub struct Given {
    /// Names and counts of the reviewed attempts.
    pub counted: Vec<(String, AttemptStatistics)>,
    /// Locked attempts that have not been counted: not reviewed, or reviewed by an older program.
    pub uncounted: usize,
    /// Attempts whose drill has since changed or gone.
    pub gone: usize,
    pub plan: Plan,
    /// What he expected of games, and what came.
    pub results: Vec<Results>,
    /// Play-outs that were to be won and are over, in the order in which they were begun.
    pub played: Vec<Played>,
    /// Own games that were judged.
    pub own_games: Vec<Advantage>,
    /// Own games on which he wrote his thoughts before the judge spoke.
    pub recognised: Vec<Recognised>,
    /// Reviewed tries of quick calculation, in the order of making, and what is known of the ladders.
    pub quick: (Vec<Try>, Vec<QuickGiven>),
    /// The last experiment and what it has come to.
    pub experiment: Option<ExperimentReport>,
    /// Grades of the drills, 1 to 5, by their positions.
    pub grades: HashMap<String, u8>,
    /// Why he missed something: the cause in his own words, and the kind that was computed, one entry
    /// each.
    pub causes: Vec<(String, String)>,
    /// Causes that are not on his list any more, as [`super::causes::plain`] words.
    pub removed: HashSet<String>,
    pub now_ms: i64,
}

/// What many attempts say together.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Report {
    pub attempts: usize,
    pub uncounted: usize,
    pub gone: usize,
    /// Attempts dated in the future: the clock was wrong then, or is now.
    pub future: usize,
    /// What is counted apart, with what was missed in it.
    pub groups: Vec<Group>,
    /// The group that the blind spots are of.
    pub main: Option<Group>,
    pub spots: Vec<Spot>,
    /// The moments of the blind spots, by attempt: see [`Spot::moments`].
    pub moments: BTreeMap<String, Vec<Moment>>,
    pub judgement: Judgement,
    pub weeks: Vec<Week>,
    /// The same attempts by difficulty.
    pub difficulty: Vec<Stratum>,
    /// Solved of all, by the grade of the drill.
    pub grades: Vec<(u8, Rate)>,
    /// What became of advantages.
    pub converting: Converting,
    /// How well he names the turning points of his own games.
    pub recognising: Recognising,
    pub account: Account,
    /// The last experiment with his own practice; missing where there was none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub experiment: Option<ExperimentReport>,
    /// Quick calculation: ladders, weeks, and what speed costs.
    pub quick: Quick,
    /// Kinds of counted findings, in so many attempts.
    pub kinds: Vec<(StoredFindingKind, usize)>,
    /// His own words, each with how often he gave them.
    pub causes: Vec<Cause>,
}

/// Attempts that are counted together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Group {
    pub words: String,
    pub attempts: usize,
    pub missed: Rate,
}

/// The report.
#[must_use]
pub fn report(given: Given, zone: &TimeZone) -> Report {
    let main = super::main_group(&given.counted);
    let refs: Vec<&AttemptStatistics> = main.iter().map(|(_, c)| c).collect();
    let every: Vec<&AttemptStatistics> = given.counted.iter().map(|(_, c)| c).collect();
    let sittings: Vec<&AttemptStatistics> = every
        .iter()
        .copied()
        .filter(|c| c.source == Source::Sitting)
        .collect();
    let groups = groups(&given.counted);
    let words = refs.first().map(|c| group_words(c));
    let future = |c: &&AttemptStatistics| c.wall_ms > given.now_ms.saturating_add(DAY_MS);
    Report {
        attempts: given.counted.len(),
        uncounted: given.uncounted,
        gone: given.gone,
        future: given.counted.iter().map(|(_, c)| c).filter(future).count(),
        main: groups
            .iter()
            .find(|g| Some(&g.words) == words.as_ref())
            .cloned(),
        groups,
        spots: spots(&main),
        moments: BTreeMap::new(),
        judgement: judgement(&refs, &given.results),
        weeks: weeks(&refs, zone),
        difficulty: strata(&refs),
        grades: by_grade(&refs, &given.grades),
        converting: converting(&given.played, &given.own_games),
        recognising: recognising(&given.recognised, zone),
        experiment: given.experiment,
        quick: quick(&given.quick.0, &given.quick.1, &every, zone),
        account: account(given.plan, &refs, &sittings, given.now_ms),
        kinds: kinds(&refs),
        causes: causes(&given.causes, &given.removed),
    }
}

fn groups(counted: &[(String, AttemptStatistics)]) -> Vec<Group> {
    let mut groups: BTreeMap<String, Group> = BTreeMap::new();
    for (_, c) in counted {
        let words = group_words(c);
        let group = groups.entry(words.clone()).or_insert_with(|| Group {
            words,
            attempts: 0,
            missed: Rate::default(),
        });
        group.attempts += 1;
        for bits in &c.trials {
            group.missed.add(!bits.seen());
        }
    }
    let mut groups: Vec<Group> = groups.into_values().collect();
    groups.sort_by_key(|g| std::cmp::Reverse(g.attempts));
    groups
}

/// 'sittings, first sight, board at the position'.
fn group_words(c: &AttemptStatistics) -> String {
    let sight = if c.first {
        tr!("first sight")
    } else {
        tr!("repeats")
    };
    match c.source {
        Source::Sitting => tr!("sittings, {sight}, {}", sight_words(c.sight)),
        Source::Notes => tr!("notes written from memory, {sight}"),
        Source::PlayOut => tr!("play-outs, {sight}"),
        Source::Quick => tr!("quick calculation, {sight}, {}", sight_words(c.sight)),
    }
}

fn kinds(attempts: &[&AttemptStatistics]) -> Vec<(StoredFindingKind, usize)> {
    let mut counts: BTreeMap<StoredFindingKind, usize> = BTreeMap::new();
    for kind in attempts.iter().flat_map(|c| &c.kinds) {
        *counts.entry(kind.clone()).or_default() += 1;
    }
    most_first(counts.into_iter().collect())
}

fn most_first<T>(mut counts: Vec<(T, usize)>) -> Vec<(T, usize)> {
    counts.sort_by_key(|(_, n)| std::cmp::Reverse(*n));
    counts
}
