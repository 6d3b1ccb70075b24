//! Results by difficulty: by the depth that was needed and the number of plausible moves, and by the grade
//! of the drill.

use std::collections::{BTreeMap, HashMap};

use serde::Serialize;

use super::record::{AttemptStatistics, Outcome};
use super::stats::{Interval, Rate, mean, median};

/// Needed depth (1-2, 3-4, 5-6, 7 and more half-moves) and plausible moves (one, two, three and more).
pub type Difficulty = (u16, u16);

/// The two in words.
pub const DEPTHS: [&str; 4] = ["1-2", "3-4", "5-6", tr_later!("7 and more")];
pub const CHOICES: [&str; 3] = ["1", "2", tr_later!("3 and more")];

/// The difficulty of an attempt.
#[must_use]
pub fn difficulty(c: &AttemptStatistics) -> Difficulty {
    (
        c.needed.div_ceil(2).clamp(1, DEPTHS.len() as u16),
        c.plausible.clamp(1, CHOICES.len() as u16),
    )
}

/// Share of the needed depth that was sound, 0 to 1.
#[must_use]
pub fn held(c: &AttemptStatistics) -> f64 {
    f64::from(c.sound.min(c.needed)) / f64::from(c.needed.max(1))
}

/// Share of the needed depth that was reached, 0 to 1.
#[must_use]
pub fn reached(c: &AttemptStatistics) -> f64 {
    f64::from(c.reached.min(c.needed)) / f64::from(c.needed.max(1))
}

/// Times to the first reply, in milliseconds, where there was a clock and a reply.
#[must_use]
pub fn replies(of: &[&AttemptStatistics]) -> Vec<f64> {
    let times = of.iter().filter_map(|c| c.first_reply_ms);
    times.map(|ms| ms as f64).collect()
}

/// Attempts of one difficulty.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Stratum {
    /// Half-moves: '3-4'.
    pub needed: &'static str,
    /// '1', '2' or '3 and more'.
    pub plausible: &'static str,
    pub attempts: usize,
    /// Mean share of the needed depth, 0 to 1.
    pub reached: f64,
    pub held: f64,
    /// 95 % of the latter; `None` where there is one attempt.
    pub interval: Option<Interval>,
    /// Median time to the first reply, in milliseconds.
    pub first_reply_ms: Option<u64>,
}

/// The difficulties that occurred, the easiest first.
#[must_use]
pub fn strata(attempts: &[&AttemptStatistics]) -> Vec<Stratum> {
    let mut by: BTreeMap<Difficulty, Vec<&AttemptStatistics>> = BTreeMap::new();
    for counted in attempts.iter().copied().filter(|c| c.needed > 0) {
        by.entry(difficulty(counted)).or_default().push(counted);
    }
    by.iter().filter_map(|(at, of)| stratum(*at, of)).collect()
}

fn stratum((needed, plausible): Difficulty, of: &[&AttemptStatistics]) -> Option<Stratum> {
    let values =
        |value: fn(&AttemptStatistics) -> f64| of.iter().map(|c| value(c)).collect::<Vec<_>>();
    let (held, interval) = mean(&values(held))?;
    let (reached, _) = mean(&values(reached))?;
    Some(Stratum {
        needed: word(&DEPTHS, needed),
        plausible: word(&CHOICES, plausible),
        attempts: of.len(),
        reached,
        held,
        interval: interval.map(|i| i.within(0.0, 1.0)),
        first_reply_ms: median(&replies(of)).map(|ms| ms as u64),
    })
}

/// The word of a number from 1 on.
fn word(words: &[&'static str], number: u16) -> &'static str {
    let at = usize::from(number).saturating_sub(1);
    words.get(at).copied().map_or("", crate::translation::text)
}

/// Solved of all, grade by grade (1 the least to 5), the easiest first.
#[must_use]
pub fn by_grade(attempts: &[&AttemptStatistics], grades: &HashMap<String, u8>) -> Vec<(u8, Rate)> {
    let mut by: BTreeMap<u8, Rate> = BTreeMap::new();
    for counted in attempts {
        if let Some(grade) = grades.get(&counted.root) {
            let solved = counted.outcome == Outcome::Solved;
            by.entry(*grade).or_default().add(solved);
        }
    }
    by.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::progress::record::tests::plain;

    fn attempt(needed: u16, plausible: u16, reached: u16, sound: u16) -> AttemptStatistics {
        AttemptStatistics {
            needed,
            plausible,
            reached,
            sound,
            ..plain(0)
        }
    }

    #[test]
    fn strata_by_needed_depth_and_plausible_moves() {
        let all = [
            attempt(9, 7, 20, 3),
            attempt(3, 1, 3, 3),
            attempt(4, 0, 2, 2),
            attempt(0, 1, 4, 0),
        ];
        let refs: Vec<&AttemptStatistics> = all.iter().collect();
        let strata = strata(&refs);
        let told: Vec<_> = strata
            .iter()
            .map(|s| (s.needed, s.plausible, s.attempts, s.reached, s.held))
            .collect();
        assert_eq!(
            told,
            [
                ("3-4", "1", 2, 0.75, 0.75),
                ("7 and more", "3 and more", 1, 1.0, 1.0 / 3.0)
            ]
        );
        assert!(strata[0].interval.is_some() && strata[1].interval.is_none());
    }

    #[test]
    fn grades_of_the_drills_that_have_one() {
        let mut solved = plain(0);
        let mut failed = plain(1);
        failed.outcome = Outcome::Failed;
        let mut other = plain(2);
        other.root = "of no drill".to_owned();
        solved.root = "easy".to_owned();
        failed.root = "easy".to_owned();
        let grades = HashMap::from([("easy".to_owned(), 1)]);
        let by = by_grade(&[&solved, &failed, &other], &grades);
        assert_eq!(by, [(1, Rate::new(1, 2))]);
    }
}
