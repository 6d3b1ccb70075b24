//! The month: what he set himself, what he did, and whether it changed: the last four weeks against the
//! twelve before them.

use serde::{Deserialize, Serialize};

use super::count::Tally;
use super::feature::Feature;
use super::record::AttemptStatistics;
use super::schedule::DAY_MS;
use super::stats::mantel::{Stratum, compare};
use super::stats::{Interval, Rate, Z95, difference};
use crate::store::Record;

pub const NOW_DAYS: i64 = 28;
pub const BEFORE_DAYS: i64 = 84;
/// Trials on either side below which nothing is said.
pub const TRIALS_MIN: u64 = 10;

/// What he sets himself for a month.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Plan {
    /// Sittings a week.
    pub sittings: Option<u32>,
    /// One habit to change: the name of a property.
    pub habit: Option<String>,
}

impl Record for Plan {
    const TABLE: &'static str = "plans";
    const VERSION: u32 = 1;
}

/// The last four weeks against the twelve before.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Account {
    pub plan: Plan,
    /// Sittings in the last four weeks, first sights and repeats.
    pub sittings: usize,
    /// Sittings in the twelve weeks before.
    pub before: usize,
    /// All that had to be seen.
    pub all: Change,
    /// The habit of the plan, where there is one.
    pub habit: Option<(&'static str, Change)>,
    /// Failed positions that were tried again in the last four weeks: solved of all.
    pub solved_again: Rate,
}

/// Missed then and now.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Change {
    pub now: Rate,
    pub before: Rate,
    /// Now less before.
    pub difference: f64,
    /// 95 % (Newcombe).
    pub interval: Interval,
    pub verdict: Verdict,
}

/// What may be said of a change. It takes the interval and the comparison at equal strata to agree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    Better,
    Worse,
    NotEnoughYet,
}

impl Verdict {
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Better => tr!("changed for the better, with evidence"),
            Self::Worse => tr!("changed for the worse, with evidence"),
            Self::NotEnoughYet => tr!("not enough yet to say"),
        }
    }
}

/// The account at `now_ms`. `main` are the attempts that count for rates, `all` those that count as work.
#[must_use]
pub fn account(
    plan: Plan,
    main: &[&AttemptStatistics],
    all: &[&AttemptStatistics],
    now_ms: i64,
) -> Account {
    let within = |c: &&&AttemptStatistics, from: i64, to: i64| {
        let age = now_ms.saturating_sub(c.wall_ms);
        age >= from * DAY_MS && age < to * DAY_MS
    };
    let tally = |from, to| Tally::of(main.iter().filter(|c| within(c, from, to)).copied());
    let (now, before) = (tally(0, NOW_DAYS), tally(NOW_DAYS, NOW_DAYS + BEFORE_DAYS));
    let features = ["own-moves", "replies"].map(Feature::named);
    let strata = features
        .into_iter()
        .flatten()
        .flat_map(|f| now.strata_against(&before, f));
    let habit = plan.habit.as_deref().and_then(Feature::named);
    let again = all
        .iter()
        .filter(|c| within(c, 0, NOW_DAYS) && is_second_try(c, all));
    let mut solved_again = Rate::default();
    for c in again {
        solved_again.add(c.outcome == super::Outcome::Solved);
    }
    let count = |from, to| all.iter().filter(|c| within(c, from, to)).count();
    Account {
        sittings: count(0, NOW_DAYS),
        before: count(NOW_DAYS, NOW_DAYS + BEFORE_DAYS),
        all: change(&strata.collect::<Vec<_>>()),
        habit: habit.map(|f| (f.words(), change(&now.strata_against(&before, f)))),
        solved_again,
        plan,
    }
}

/// A repeat of a position that had been failed.
fn is_second_try(c: &AttemptStatistics, all: &[&AttemptStatistics]) -> bool {
    let failed = |o: &&&AttemptStatistics| o.root == c.root && o.outcome == super::Outcome::Failed;
    !c.first && all.iter().filter(failed).any(|o| o.wall_ms < c.wall_ms)
}

fn change(strata: &[Stratum]) -> Change {
    let sum = |of: fn(&Stratum) -> Rate| strata.iter().fold(Rate::default(), |r, s| r.with(of(s)));
    let (now, before) = (sum(|s| s.inside), sum(|s| s.outside));
    let (difference, interval) = difference(now, before);
    let z = compare(strata).map_or(0.0, |c| c.z);
    let enough = now.of >= TRIALS_MIN && before.of >= TRIALS_MIN;
    let verdict = if enough && interval.high < 0.0 && z <= -Z95 {
        Verdict::Better
    } else if enough && interval.low > 0.0 && z >= Z95 {
        Verdict::Worse
    } else {
        Verdict::NotEnoughYet
    };
    Change {
        now,
        before,
        difference,
        interval,
        verdict,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::progress::feature::Bits;
    use crate::progress::record::tests::plain;

    /// `missed` of `of` attempts, each `days` before day 200.
    fn attempts(days: i64, missed: usize, of: usize) -> Vec<AttemptStatistics> {
        let trial = ["replies", "half-moves-1-2", "captures"].map(|n| Feature::named(n).unwrap());
        let one = |i: usize| {
            let mut c = plain((200 - days) * DAY_MS);
            c.trials = vec![Bits::with(&trial, i >= missed)];
            c
        };
        (0..of).map(one).collect()
    }

    fn account_of(now: (usize, usize), before: (usize, usize)) -> Account {
        let mut all = attempts(3, now.0, now.1);
        all.extend(attempts(40, before.0, before.1));
        // Too old to count, and dated in the future by a clock that was wrong.
        all.extend(attempts(150, 50, 50));
        all.extend(attempts(-30, 50, 50));
        let refs: Vec<&AttemptStatistics> = all.iter().collect();
        let plan = Plan {
            sittings: Some(3),
            habit: Some("captures".to_owned()),
        };
        account(plan, &refs, &refs, 200 * DAY_MS)
    }

    #[test]
    fn four_weeks_against_twelve() {
        let account = account_of((4, 40), (60, 120));
        assert_eq!((account.sittings, account.before), (40, 120));
        assert_eq!(account.all.now, Rate::new(4, 40));
        assert_eq!(account.all.before, Rate::new(60, 120));
        assert_eq!(account.all.verdict, Verdict::Better);
        assert_eq!(account.habit.unwrap().1.verdict, Verdict::Better);
        assert_eq!(account_of((30, 40), (60, 120)).all.verdict, Verdict::Worse);
        assert_eq!(
            account_of((18, 40), (60, 120)).all.verdict,
            Verdict::NotEnoughYet
        );
        assert_eq!(
            account_of((0, 9), (60, 120)).all.verdict,
            Verdict::NotEnoughYet
        );
    }
}
