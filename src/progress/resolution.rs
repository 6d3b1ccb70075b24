//! Whether a resolution held: a share before it, a share after it, and what may be said of the difference.
//!
//! The verdict rests on the 95 % interval of the difference of the two shares (R. G. Newcombe, Interval estimation for the
//! difference between independent proportions, Statistics in Medicine 17, 1998, method 10) and asks for three cases on
//! either side at least.
//!
//! # Power
//! How often a change is told as held when it is real, from so many cases before and after (computed exactly from the
//! binomial distribution, `tests/python/resolution_power.py`):
//!
//! | cases before, after | 40 % to 80 % | 50 % to 80 % | 50 % to 90 % | no change at 50 %, wrongly |
//! | --- | --- | --- | --- | --- |
//! | 5, 5 | 27 % | 18 % | 31 % | 3 % |
//! | 10, 5 | 29 % | 15 % | 24 % | 2 % |
//! | 10, 10 | 42 % | 25 % | 47 % | 2 % |
//! | 20, 10 | 58 % | 35 % | 61 % | 3 % |
//! | 40, 20 | 88 % | 63 % | 91 % | 3 % |
//! | 60, 60 | 100 % | 94 % | 100 % | 3 % |

use serde::Serialize;

use super::stats::{Interval, Rate, difference};

/// Cases on either side below which nothing is said.
pub const CASES_MIN: u64 = 3;

/// A resolution and what came of it.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Resolution {
    /// His words.
    pub words: String,
    /// What is counted, in words; `None` where he tied it to nothing.
    pub counted: Option<String>,
    /// In all judged games up to the event from which it comes, and in those after it.
    pub before: Rate,
    pub after: Rate,
    /// After less before, with its 95 % interval.
    pub difference: f64,
    pub interval: Interval,
    pub verdict: Held,
}

/// What may be said of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Held {
    Held,
    /// It is worse than before.
    NotHeld,
    NotYet,
    /// Nothing is counted for it.
    NotCounted,
}

impl Held {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Held => tr!("held"),
            Self::NotHeld => tr!("not held: worse than before"),
            Self::NotYet => tr!("not yet to be told"),
            Self::NotCounted => tr!("tied to nothing that is counted"),
        }
    }
}

impl Resolution {
    /// With both shares; a greater one is better.
    #[must_use]
    pub fn of(words: String, counted: Option<String>, before: Rate, after: Rate) -> Self {
        let (difference, interval) = difference(after, before);
        let enough = before.of >= CASES_MIN && after.of >= CASES_MIN;
        let verdict = match counted {
            None => Held::NotCounted,
            Some(_) if enough && interval.low > 0.0 => Held::Held,
            Some(_) if enough && interval.high < 0.0 => Held::NotHeld,
            Some(_) => Held::NotYet,
        };
        Self {
            words,
            counted,
            before,
            after,
            difference,
            interval,
            verdict,
        }
    }

    /// What is counted and what came of it, in one sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let Some(counted) = &self.counted else {
            return format!("{}.", crate::text::capital(self.verdict.words()));
        };
        if self.after.of == 0 {
            return tr!(
                "{}: before {} of {}, none since; {}.",
                crate::text::capital(counted),
                self.before.part,
                self.before.of,
                self.verdict.words()
            );
        }
        tr!(
            "{}: before {} of {}, since then {} of {} ({:+.0} points, 95 % from {:+.0} to {:+.0}); {}.",
            crate::text::capital(counted),
            self.before.part,
            self.before.of,
            self.after.part,
            self.after.of,
            100.0 * self.difference,
            100.0 * self.interval.low,
            100.0 * self.interval.high,
            self.verdict.words()
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn held(before: (u64, u64), after: (u64, u64)) -> Held {
        let rate = |(part, of)| Rate::new(part, of);
        let counted = Some("games".to_owned());
        Resolution::of(
            "Checks first.".to_owned(),
            counted,
            rate(before),
            rate(after),
        )
        .verdict
    }

    #[test]
    fn only_an_interval_on_one_side_says_something() {
        assert_eq!(held((4, 20), (18, 20)), Held::Held);
        assert_eq!(held((18, 20), (4, 20)), Held::NotHeld);
        assert_eq!(held((2, 5), (4, 5)), Held::NotYet);
        // However clear it looks: two cases are none.
        assert_eq!(held((0, 40), (2, 2)), Held::NotYet);
        assert_eq!(held((0, 0), (5, 5)), Held::NotYet);
        let untied = Resolution::of("Sleep.".to_owned(), None, Rate::default(), Rate::default());
        assert_eq!(untied.verdict, Held::NotCounted);
        assert_eq!(untied.sentence(), "Tied to nothing that is counted.");
    }

    #[test]
    fn the_sentence_holds_all_counts() {
        let of = Resolution::of(
            "Checks first.".to_owned(),
            Some("games won from .85 on".to_owned()),
            Rate::new(2, 5),
            Rate::new(4, 5),
        );
        assert_eq!(
            of.sentence(),
            "Games won from .85 on: before 2 of 5, since then 4 of 5 (+40 points, 95 % from -16 to +73); not yet to be told."
        );
    }
}
