//! What is kept of one reviewed attempt for counting. Adding an attempt writes these two records and
//! touches nothing else.

use serde::{Deserialize, Serialize};

use super::feature::{Bits, standing_code};
use crate::attempt::BoardVisibility;
use crate::board::phase::Phase;
use crate::review::{Review, StoredFindingKind};
use crate::store::Record;

/// How a written tree came to be. Kinds are never counted together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Source {
    /// Written under the clock, before the move.
    Sitting,
    /// Written from memory, after the event.
    Notes,
    /// A position played out against the engine.
    PlayOut,
    /// A sitting of quick calculation: written before the move, under a clock that he could not choose.
    Quick,
}

/// How an attempt ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// The choice is within delta of the best, and nothing counts against the tree.
    Solved,
    /// The choice is within delta of the best, but something counts.
    Partly,
    /// The choice loses delta or more, or nothing was chosen.
    Failed,
}

/// A verdict: stated, truth (expected scores of the player, 0 to 1), phase (0 opening, 1 middlegame, 2
/// ending).
pub type Verdicts = Vec<(f32, f32, u8)>;

/// One reviewed attempt, counted. Kept under the attempt's name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AttemptStatistics {
    /// Wall-clock time of opening, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    /// The position: the same for every attempt at it.
    pub root: String,
    pub source: Source,
    pub sight: BoardVisibility,
    /// False where the position had been attempted before.
    pub first: bool,
    /// One number a trial.
    pub trials: Vec<Bits>,
    pub verdicts: Verdicts,
    /// The player's expected score at the root, 0 to 1.
    pub standing: f32,
    /// Kinds of the findings that count, each once.
    pub kinds: Vec<StoredFindingKind>,
    pub outcome: Outcome,
    /// Half-moves, as in the review.
    pub needed: u16,
    pub reached: u16,
    pub sound: u16,
    /// Moves at the root within delta of the best.
    pub plausible: u16,
    /// From the start of writing; `None` where there was no clock or no reply.
    pub first_reply_ms: Option<u64>,
    pub spent_ms: Option<u64>,
    /// Time on candidates that were not chosen.
    pub dropped_ms: Option<u64>,
    /// What his verdict at the end of the choice's line says he expects, 0 to 1; `None` where there is
    /// none, and in records of an older program.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub forecast: Option<f32>,
}

impl Record for AttemptStatistics {
    const TABLE: &'static str = "trials";
    const VERSION: u32 = 1;
}

/// Where each trial of an attempt is, in the order of [`AttemptStatistics::trials`]. Apart from them, since
/// counting needs none of it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Moments {
    pub moments: Vec<Moment>,
}

/// One moment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Moment {
    /// Moves from the root to it, in SAN.
    pub path: Vec<String>,
    /// What was to be seen, in SAN.
    pub resource: String,
}

impl Moment {
    /// 'Rxf3 after Nd4 Qe7', or 'Nd4 at once'.
    #[must_use]
    pub fn words(&self) -> String {
        match self.path.as_slice() {
            [] => tr!("{} at once", self.resource),
            path => tr!("{} after {}", self.resource, path.join(" ")),
        }
    }
}

impl Record for Moments {
    const TABLE: &'static str = "moments";
    const VERSION: u32 = 1;
}

/// What an attempt is besides its review.
#[derive(Debug, Clone, PartialEq)]
pub struct Circumstances {
    pub wall_ms: i64,
    pub root: String,
    pub source: Source,
    pub sight: BoardVisibility,
    pub first: bool,
    /// As in [`AttemptStatistics::forecast`].
    pub forecast: Option<f64>,
}

/// A finding that a coach has struck: where, and what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Struck {
    pub path: Vec<String>,
    pub resource: String,
}

/// The two records of a review. What a coach has `struck` counts neither as seen nor as missed.
#[must_use]
pub fn counted(
    of: Circumstances,
    review: &Review,
    struck: &[Struck],
    delta: f64,
) -> (AttemptStatistics, Moments) {
    let is_struck = |path: &[String], resource: &str| {
        struck
            .iter()
            .any(|s| s.path == path && s.resource == resource)
    };
    let trials = &review.trials;
    let kept: Vec<_> = trials
        .moments
        .iter()
        .filter(|t| !is_struck(&t.path, &t.resource))
        .collect();
    let mut kinds: Vec<StoredFindingKind> = review
        .counted()
        .filter(|f| !f.paths.iter().any(|p| is_struck(p, &f.resource)))
        .map(|f| f.kind.into())
        .collect();
    kinds.sort_unstable();
    kinds.dedup();
    let process = review.process.as_ref();
    let counted = AttemptStatistics {
        wall_ms: of.wall_ms,
        root: of.root,
        source: of.source,
        sight: of.sight,
        first: of.first,
        trials: kept
            .iter()
            .map(|t| Bits::of(t, trials.standing.value()))
            .collect(),
        verdicts: trials
            .verdicts
            .iter()
            .map(|v| {
                (
                    v.stated.value() as f32,
                    v.truth.value() as f32,
                    phase_code(v.phase),
                )
            })
            .collect(),
        standing: trials.standing.value() as f32,
        outcome: outcome(review, &kinds, delta),
        kinds,
        needed: small(review.depth.needed),
        reached: small(review.depth.reached),
        sound: small(review.depth.sound),
        plausible: small(trials.plausible),
        first_reply_ms: process.and_then(|p| p.first_reply_ms),
        spent_ms: process.map(|p| p.spent_ms),
        dropped_ms: process.map(|p| dropped(p, review.choice.as_deref())),
        forecast: of.forecast.map(|e| e as f32),
    };
    let moments = kept
        .iter()
        .map(|t| Moment {
            path: t.path.clone(),
            resource: t.resource.clone(),
        })
        .collect();
    (counted, Moments { moments })
}

fn outcome(review: &Review, kinds: &[StoredFindingKind], delta: f64) -> Outcome {
    let Some(choice) = review.expected.choice else {
        return Outcome::Failed;
    };
    if (review.expected.best - choice).value() >= delta {
        Outcome::Failed
    } else if kinds.is_empty() {
        Outcome::Solved
    } else {
        Outcome::Partly
    }
}

fn dropped(process: &crate::review::Process, choice: Option<&str>) -> u64 {
    let others = process
        .per_candidate
        .iter()
        .filter(|(san, _)| Some(san.as_str()) != choice);
    others.map(|(_, ms)| ms).sum()
}

fn small(n: usize) -> u16 {
    u16::try_from(n).unwrap_or(u16::MAX)
}

fn phase_code(phase: Phase) -> u8 {
    match phase {
        Phase::Opening => 0,
        Phase::Middlegame => 1,
        Phase::Ending => 2,
    }
}

impl AttemptStatistics {
    /// Standing at the root: 'winning', 'level' or 'worse'.
    #[must_use]
    pub fn standing_word(&self) -> &'static str {
        match standing_code(f64::from(self.standing)) {
            45 => tr!("winning"),
            47 => tr!("worse"),
            _ => tr!("level"),
        }
    }

    /// True for what the main figures may be made of.
    #[must_use]
    pub fn is_first_sitting(&self) -> bool {
        self.first && self.source == Source::Sitting
    }

    /// True for what they are made of, `sight` being the one that [`super::main_sight`] gives.
    #[must_use]
    pub fn is_in_main_group(&self, sight: Option<BoardVisibility>) -> bool {
        self.is_first_sitting() && Some(self.sight) == sight
    }
}

/// Who saw a position first: kept when an attempt is locked, so that a clock that was set back cannot
/// make a repeat the first sight.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sighted {
    /// The attempt's name.
    pub attempt: String,
}

impl Record for Sighted {
    const TABLE: &'static str = "first-sights";
    const VERSION: u32 = 1;
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// An attempt with nothing in it.
    pub(crate) fn plain(wall_ms: i64) -> AttemptStatistics {
        AttemptStatistics {
            wall_ms,
            root: "r".to_owned(),
            source: Source::Sitting,
            sight: BoardVisibility::Root,
            first: true,
            trials: Vec::new(),
            verdicts: Vec::new(),
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

    /// What is in the store must be read for ever.
    #[test]
    fn the_kept_form() {
        let mut counted = plain(1_795_608_000_000);
        counted
            .kinds
            .push(crate::review::FindingKind::MissedDefence.into());
        counted.verdicts.push((0.5, 0.25, 1));
        let json = serde_json::to_string(&counted).unwrap();
        insta::assert_snapshot!(json, @r#"{"wall_ms":1795608000000,"root":"r","source":"sitting","sight":"root","first":true,"trials":[],"verdicts":[[0.5,0.25,1]],"standing":0.5,"kinds":["missed-defence"],"outcome":"solved","needed":3,"reached":3,"sound":3,"plausible":2,"first_reply_ms":null,"spent_ms":null,"dropped_ms":null}"#);
        assert_eq!(
            serde_json::from_str::<AttemptStatistics>(&json).unwrap(),
            counted
        );
        counted.forecast = Some(0.5);
        let json = serde_json::to_string(&counted).unwrap();
        assert!(json.ends_with(r#","forecast":0.5}"#), "{json}");
    }
}
