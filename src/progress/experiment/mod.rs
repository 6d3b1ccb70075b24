//! Is the practice working? An experiment with one player: each of two or three habits gets its block of practice from a week on that
//! was drawn, and what he misses is counted before and after.
//!
//! Takes the experiment as it was drawn ([`Experiment`], kept and never changed) and what was measured; gives the report
//! ([`report`]). The test is in [`super::stats::randomisation`].
//!
//! # What is measured
//! * *Drills*: first sights of sittings at positions of the measuring half. The positions are divided in two by a sum over the
//!   seed and the position: blocks practise with the one half, and the other is for measuring, so that no position is in the counts
//!   because it was chosen for practice. Each case is a moment that holds the habit ([`crate::progress::count`]'s rule: one a property
//!   and attempt).
//! * *Own games*: every move of a judged game ([`GameMisses`]): where one move alone held, whether he played it; and the opponent's best
//!   reply, whether his move lost to it.
//!
//! Both are series of their own: they are missed at different rates.
//!
//! # What is shown when
//! The weeks that are to come are not shown, since whoever knows when a block begins waits for it. A sum over the draw is shown from the
//! beginning, and the draw with its seed at the end, so that it can be held against it. The test is made once, at the end: a look every
//! week would find something in the end. An experiment that was stopped is not tested.

mod power;
mod report;

use serde::{Deserialize, Serialize};

use super::feature::{Bits, Feature, Group};
use super::schedule::DAY_MS;
use super::stats::randomisation::draws;
use crate::board::random::SplitMix;
use crate::store::Record;

pub use power::{LEVEL, found_of_100};
pub use report::{
    ExperimentReport, ExperimentState, HabitCounts, Measured, TestResult, Verdict, measured, report,
};

/// Weeks on either side of a start at least.
pub const SIDE: usize = 3;
/// The shortest and the longest experiment, in weeks, and the usual one.
pub const WEEKS_MIN: u32 = 12;
pub const WEEKS_MAX: u32 = 26;
pub const WEEKS: u32 = 16;
/// Habits of one experiment.
pub const HABITS: std::ops::RangeInclusive<usize> = 2..=3;
const WEEK_MS: i64 = 7 * DAY_MS;

/// An experiment as it was drawn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Experiment {
    /// When it began, milliseconds since 1970-01-01 UTC. Its weeks are spans of seven days from here.
    pub from_ms: i64,
    pub weeks: u32,
    /// Names of properties.
    pub habits: Vec<String>,
    pub seed: u64,
    /// For each habit the week from which it is practised, the first week being 0: what the seed says, kept beside it.
    pub starts: Vec<u32>,
    /// When he gave it up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stopped_ms: Option<i64>,
}

impl Record for Experiment {
    const TABLE: &'static str = "experiments";
    const VERSION: u32 = 1;
}

/// Why there is no such experiment.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ExperimentError {
    #[error("{}", tr!("an experiment is about two or three habits, each named once"))]
    Habits,
    #[error("{}", tr!("there is no habit '{name}'; these are: {all}"))]
    NoSuchHabit { name: String, all: String },
    #[error("{}", tr!("an experiment lasts {WEEKS_MIN} to {WEEKS_MAX} weeks"))]
    Weeks,
}

/// What can be practised by positions that hold it.
fn is_practised(feature: Feature) -> bool {
    use Group::{Class, GivesUp, Motif, Piece};
    matches!(feature.group(), Class | GivesUp | Motif | Piece)
}

/// The names that an experiment can be about.
#[must_use]
pub fn habits() -> Vec<&'static str> {
    let all = Feature::all().filter(|f| is_practised(*f));
    all.map(Feature::name).collect()
}

impl Experiment {
    /// Draws an experiment.
    ///
    /// # Errors
    /// It cannot be about these habits, or last so long.
    pub fn draw(
        from_ms: i64,
        weeks: u32,
        habits: &[String],
        seed: u64,
    ) -> Result<Self, ExperimentError> {
        let twice = |name: &&String| habits.iter().filter(|h| h == name).count() > 1;
        if !HABITS.contains(&habits.len()) || habits.iter().any(|h| twice(&h)) {
            return Err(ExperimentError::Habits);
        }
        let known = |name: &&String| Feature::named(name).is_some_and(is_practised);
        if let Some(name) = habits.iter().find(|h| !known(h)) {
            return Err(ExperimentError::NoSuchHabit {
                name: name.clone(),
                all: self::habits().join(", "),
            });
        }
        if !(WEEKS_MIN..=WEEKS_MAX).contains(&weeks) {
            return Err(ExperimentError::Weeks);
        }
        let all = possible(weeks, habits.len());
        // The remainder is off uniform by less than one part in 10^15.
        let place = SplitMix(seed).roll() % all.len().max(1) as u64;
        let drawn = usize::try_from(place).ok().and_then(|at| all.get(at));
        let starts = drawn.into_iter().flatten();
        Ok(Self {
            from_ms,
            weeks,
            habits: habits.to_vec(),
            seed,
            starts: starts.filter_map(|s| u32::try_from(*s).ok()).collect(),
            stopped_ms: None,
        })
    }

    /// The draws that could have been.
    pub(super) fn draws(&self) -> Vec<Vec<usize>> {
        possible(self.weeks, self.habits.len())
    }

    /// The week of a time, the first being 0; `None` before and after.
    #[must_use]
    pub fn week_of(&self, at_ms: i64) -> Option<u32> {
        let week = at_ms.saturating_sub(self.from_ms).div_euclid(WEEK_MS);
        let week = u32::try_from(week).ok().filter(|w| *w < self.weeks)?;
        self.stopped_ms
            .is_none_or(|stopped| at_ms < stopped)
            .then_some(week)
    }

    /// True while it goes on.
    #[must_use]
    pub fn is_running(&self, now_ms: i64) -> bool {
        self.stopped_ms.is_none()
            && now_ms.saturating_sub(self.from_ms).div_euclid(WEEK_MS) < i64::from(self.weeks)
    }

    /// Its habits, each with the week from which it is practised.
    pub fn blocks(&self) -> impl Iterator<Item = (Feature, u32)> {
        let both = self.habits.iter().zip(&self.starts);
        both.filter_map(|(name, start)| Some((Feature::named(name)?, *start)))
    }

    /// What is practised now: the habits whose week has come.
    #[must_use]
    pub fn practised(&self, now_ms: i64) -> Vec<Feature> {
        let week = self.week_of(now_ms);
        let come = self.blocks().filter(|(_, start)| week >= Some(*start));
        come.map(|(feature, _)| feature).collect()
    }

    /// Whether a position is of the half that is for measuring, whatever is practised.
    #[must_use]
    pub fn measures(&self, root: &str) -> bool {
        crc32fast::hash(format!("{} {root}", self.seed).as_bytes()) & 1 == 0
    }

    /// A sum over the draw, to be written down before and compared after: eight hexadecimal digits of CRC-32 (ITU-T V.42).
    #[must_use]
    pub fn check(&self) -> String {
        let text = format!("{} {:?} {:?}", self.seed, self.habits, self.starts);
        format!("{:08x}", crc32fast::hash(text.as_bytes()))
    }
}

/// Distinct weeks, with so many weeks on either side.
fn possible(weeks: u32, habits: usize) -> Vec<Vec<usize>> {
    let last = (weeks as usize).saturating_sub(SIDE);
    draws(habits, SIDE, last)
}

/// What one judged own game says of habits: a case a move. Kept under the game's name; it can be computed again.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct GameMisses {
    /// Midnight UTC of the day on which it was played, milliseconds since 1970-01-01; `None` where that is not known.
    pub date_ms: Option<i64>,
    pub cases: Vec<Bits>,
}

impl Record for GameMisses {
    const TABLE: &'static str = "game-misses";
    const VERSION: u32 = 1;
    const DISPOSABLE: bool = true;
}

#[cfg(test)]
mod tests;
