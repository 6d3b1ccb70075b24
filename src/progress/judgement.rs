//! How far his verdicts are off: stated minus true.
//!
//! Verdicts of one attempt are not independent: each attempt is one value, the mean of its verdicts. The
//! interval is the spread of those values.

use serde::Serialize;

use super::record::AttemptStatistics;
use super::stats::forecast::{Bin, Brier, Forecast, brier, reliability};
use super::stats::{Interval, mean};

/// Attempts below which nothing is said.
pub const ATTEMPTS_MIN: usize = 10;

/// What the verdicts say together.
#[derive(Debug, Clone, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Judgement {
    pub all: Option<Error>,
    /// By part of the game and by standing at the root, in words.
    pub parts: Vec<(&'static str, Error)>,
    /// Stated against true, tenth by tenth of what was stated.
    pub diagram: Vec<Bin>,
    /// Against results: play-outs and own games, each apart.
    pub results: Vec<Against>,
}

/// What he expected of some games at the end of his line, and what came.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Results {
    pub words: &'static str,
    /// Several expectations may be of one game.
    pub games: usize,
    pub forecasts: Vec<Forecast>,
}

/// How good his expectations were against results.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Against {
    pub words: &'static str,
    pub games: usize,
    pub brier: Brier,
    /// True from [`RESULTS_MIN`] games on.
    pub enough: bool,
}

/// A lean smaller than this is none, in expected score: what counts as a gap between two moves. That there is none is said
/// only where the interval leaves no larger one.
pub const LEAN: f64 = 0.10;

/// Games below which a score against results says nothing.
pub const RESULTS_MIN: usize = 10;

/// Mean error of some verdicts, in expected score.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Error {
    /// Positive where he is too hopeful, negative where too gloomy.
    pub signed: f64,
    /// 95 %; `None` where there is one attempt.
    pub interval: Option<Interval>,
    /// How far off, either way.
    pub absolute: f64,
    pub verdicts: usize,
    pub attempts: usize,
}

impl Error {
    /// 'Too hopeful', 'too gloomy', 'no lean', or 'not enough yet'.
    #[must_use]
    pub fn words(&self) -> &'static str {
        match self.interval {
            Some(_) if self.attempts < ATTEMPTS_MIN => tr!("not enough yet"),
            Some(i) if i.low > 0.0 => tr!("too hopeful"),
            Some(i) if i.high < 0.0 => tr!("too gloomy"),
            Some(i) if i.low > -LEAN && i.high < LEAN => tr!("no lean either way"),
            Some(_) => tr!("not enough yet"),
            None => tr!("not enough yet"),
        }
    }
}

/// The verdicts of these attempts, and results where there are any.
#[must_use]
pub fn judgement(attempts: &[&AttemptStatistics], results: &[Results]) -> Judgement {
    let phases = [
        tr!("in the opening"),
        tr!("in the middlegame"),
        tr!("in the ending"),
    ];
    let mut parts = Vec::new();
    for (code, words) in (0..).zip(phases) {
        let of: Vec<Vec<_>> = each(attempts, |_, v| v.2 == code);
        parts.extend(error(&of).map(|e| (words, e)));
    }
    for (word, words) in [
        (tr!("winning"), tr!("when winning")),
        (tr!("level"), tr!("in the balance")),
        (tr!("worse"), tr!("when worse")),
    ] {
        let of = each(attempts, |c, _| c.standing_word() == word);
        parts.extend(error(&of).map(|e| (words, e)));
    }
    let all = each(attempts, |_, _| true);
    let forecasts: Vec<Forecast> = all
        .iter()
        .flatten()
        .map(|(stated, truth)| Forecast {
            stated: *stated,
            came: *truth,
        })
        .collect();
    Judgement {
        all: error(&all),
        parts,
        diagram: reliability(&forecasts, 10),
        results: results.iter().filter_map(against).collect(),
    }
}

fn against(of: &Results) -> Option<Against> {
    Some(Against {
        words: of.words,
        games: of.games,
        brier: brier(&of.forecasts, 10)?,
        enough: of.games >= RESULTS_MIN,
    })
}

/// Stated and true, attempt by attempt, of the verdicts that belong.
fn each(
    attempts: &[&AttemptStatistics],
    belongs: impl Fn(&AttemptStatistics, &(f32, f32, u8)) -> bool,
) -> Vec<Vec<(f64, f64)>> {
    let one = |c: &AttemptStatistics| {
        let of = c.verdicts.iter().filter(|v| belongs(c, v));
        of.map(|v| (f64::from(v.0), f64::from(v.1))).collect()
    };
    attempts
        .iter()
        .map(|c| one(c))
        .filter(|v: &Vec<_>| !v.is_empty())
        .collect()
}

fn error(attempts: &[Vec<(f64, f64)>]) -> Option<Error> {
    let means = |of: fn(f64) -> f64| -> Vec<f64> {
        let one = |v: &Vec<(f64, f64)>| {
            v.iter()
                .map(|(stated, truth)| of(stated - truth))
                .sum::<f64>()
                / v.len() as f64
        };
        attempts.iter().map(one).collect()
    };
    let (signed, interval) = mean(&means(|e| e))?;
    // No verdict can be further off than from one end to the other.
    let interval = interval.map(|i| i.within(-1.0, 1.0));
    let (absolute, _) = mean(&means(f64::abs))?;
    Some(Error {
        signed,
        interval,
        absolute,
        verdicts: attempts.iter().map(Vec::len).sum(),
        attempts: attempts.len(),
    })
}
