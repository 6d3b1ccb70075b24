//! What was measured, as a test or a bench wrote it down.

use serde::Deserialize;

const FILE: &str = include_str!("measured.json");

/// The file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Measured {
    pub blind_spots: Named,
    pub verdicts: Leans,
    pub resolutions: Vec<Power>,
    pub intervals: Vec<Covered>,
    pub benches: Benches,
}

/// In how many of a hundred runs an invented player's weakness was named after so many attempts.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Named {
    pub runs: u64,
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

/// Of a hundred runs with invented players who are too hopeful by a tenth, and sober ones.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Leans {
    pub runs: u64,
    pub attempts: u64,
    pub hopeful_found: u64,
    pub sober_wrong: u64,
}

/// How often a real change of a share is told as held, in points of a hundred.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Power {
    pub before: u64,
    pub after: u64,
    /// From 50 to 90 %, and no change at 50 %.
    pub real: f64,
    pub wrongly: f64,
}

/// How often the 95 % interval of a share holds the true one, over all true shares from .01 to .99.
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
    pub difficulty: Vec<String>,
}

impl Measured {
    pub(super) fn built_in() -> Result<Self, serde_json::Error> {
        serde_json::from_str(FILE)
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
            format!(
                "{}, missed {} points more often: in {}",
                row.words,
                row.points,
                list(&row.named)
            )
        });
        vec![format!(
            "Invented players of four to nine moments an attempt, {} runs each, named after {} attempts in so many of a hundred: {}; where there was no weakness, something was named in {}.",
            self.runs,
            crate::text::list(&after),
            rows.collect::<Vec<_>>().join("; "),
            list(&self.none)
        )]
    }
}
