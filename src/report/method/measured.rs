//! What was measured, as a test or a bench wrote it down.

use serde::Deserialize;

use super::count;

const FILE: &str = include_str!("measured.json");

/// The file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Measured {
    pub blind_spots: Named,
    pub verdicts: Leans,
    pub resolutions: Powers,
    pub intervals: Intervals,
    pub benches: Benches,
}

/// In how many of a hundred runs an invented player's weakness was named after so many attempts.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Named {
    pub runs: u64,
    /// Moments of an attempt.
    pub moments: (u64, u64),
    pub after: Vec<usize>,
    pub rows: Vec<NamedRow>,
    /// Where nothing was planted and something was named.
    pub none: Vec<u64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NamedRow {
    /// 'moves backward'.
    pub words: String,
    /// How much more often such a move was missed, in points of a hundred.
    pub points: u64,
    pub named: Vec<u64>,
}

/// Of a hundred runs with invented players who are too hopeful, and sober ones.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Leans {
    pub runs: u64,
    pub attempts: u64,
    /// By how much the hopeful ones are too hopeful, in expected score.
    pub hope: f64,
    pub hopeful_found: u64,
    pub sober_wrong: u64,
}

/// How often a change of a share is told as held.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Powers {
    /// The real change.
    pub from: f64,
    pub to: f64,
    pub rows: Vec<Power>,
}

/// In points of a hundred.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Power {
    pub before: u64,
    pub after: u64,
    /// The real change, and none at all.
    pub real: f64,
    pub wrongly: f64,
}

/// How often the 95 % interval of a share holds the true one.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Intervals {
    /// The true shares that were gone through.
    pub shares: (f64, f64),
    pub rows: Vec<Covered>,
}

/// In points of a hundred.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Covered {
    pub cases: u64,
    pub least: f64,
    pub mean: f64,
}

/// Sentences of the benches' results, word for word.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Benches {
    pub truth: Vec<String>,
    pub curve: Vec<String>,
    pub people: Vec<String>,
    pub difficulty: Vec<String>,
    pub bands: Vec<String>,
}

impl Measured {
    pub(super) fn built_in() -> Result<Self, serde_json::Error> {
        let mut measured: Self = serde_json::from_str(FILE)?;
        let benches = &mut measured.benches;
        let of = [
            &mut benches.truth,
            &mut benches.curve,
            &mut benches.people,
            &mut benches.difficulty,
            &mut benches.bands,
        ];
        for sentence in of.into_iter().flatten() {
            *sentence = crate::text::figures_in(sentence).into_owned();
        }
        Ok(measured)
    }
}

impl Named {
    /// 'Of 100 runs with invented players, named after 50, 100, 200 and 400 attempts: ...'
    pub(super) fn sentences(&self) -> Vec<String> {
        let after: Vec<String> = self.after.iter().map(usize::to_string).collect();
        let list = |of: &[u64]| {
            let of: Vec<String> = of.iter().map(u64::to_string).collect();
            crate::text::list(&of)
        };
        let rows = self.rows.iter().map(|row| {
            tr!(
                "{}, missed {} points more often: in {}",
                row.words,
                row.points,
                list(&row.named)
            )
        });
        vec![tr!(
            "Invented players of {} to {} moments an attempt, {} runs each, named after {} attempts in so many of a hundred: {}; where there was no weakness, something was named in {}.",
            count(self.moments.0),
            count(self.moments.1),
            self.runs,
            crate::text::list(&after),
            rows.collect::<Vec<_>>().join("; "),
            list(&self.none)
        )]
    }
}
