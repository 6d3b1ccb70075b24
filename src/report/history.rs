//! The history as text, JSON and a page: a line each, the newest first.

use std::fmt::Write;

use askama::Template;
use serde::Serialize;

use super::published::{Published, document_json};
use super::sheet::sheet;
use crate::text::{clock, date_columns, dates_in, day, fit, safe, whole, wrap};

const WIDTH: usize = 80;
/// Columns before the description.
const INDENT: usize = 18;

/// One attempt, or one game that was played out.
#[derive(Debug, Clone, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct HistoryRow {
    /// The short name, which every command takes.
    pub name: String,
    /// The whole name.
    pub id: String,
    /// The day on which it was opened, in the player's time zone (YYYY-MM-DD).
    pub date: String,
    /// `drill`, `game`, `position`, `notes`, `in-playout` or `playout`.
    pub kind: &'static str,
    /// From where, in words.
    pub place: String,
    /// The chosen move as it was typed; not of a game that was played out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chosen: Option<String>,
    /// Half-moves written, or moves of the player in a game.
    pub moves: usize,
    /// Thinking time in milliseconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub used_ms: Option<u64>,
    /// Time that was given, in milliseconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub budget_ms: Option<u64>,
    /// In quick calculation the number of its ladder, from 1 on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub quick: Option<u8>,
    /// What the review counted; missing until there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub review: Option<RowReview>,
    /// Level of the opponent in a game that was played out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub level: Option<u8>,
    /// How that game ended for the player: `won`, `drawn`, `lost`, `held`; missing while it goes on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub result: Option<&'static str>,
}

/// A review in short.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct RowReview {
    /// Number of counted findings.
    pub counted: usize,
    /// Their kinds by code, each once.
    pub findings: Vec<String>,
    /// The same in words.
    #[serde(skip)]
    pub labels: Vec<String>,
    /// What the first finding cost, in expected score (0 to 1).
    pub effect: f64,
    /// Half-moves, as in the review.
    pub needed: usize,
    pub reached: usize,
    pub sound: usize,
    /// Findings that a coach struck; they are not counted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub struck: Option<usize>,
}

impl HistoryRow {
    /// What came of it, in words.
    fn outcome(&self) -> String {
        if self.kind == "playout" {
            let level = self
                .level
                .map_or_else(String::new, |l| tr!(" against level {l}"));
            return match self.result {
                Some(result) => tr!("{result}{level} in {} moves", self.moves),
                None => tr!("goes on{level}, {} moves played", self.moves),
            };
        }
        let chosen = match self.chosen.as_deref() {
            Some(choice) if !choice.is_empty() => tr!("chose {choice}"),
            _ => tr!("chose nothing").to_owned(),
        };
        let time = self.used_ms.filter(|ms| *ms > 0);
        let time = time.map_or_else(String::new, |ms| tr!(" in {}", clock(ms)));
        let time = match self.quick {
            Some(_) => tr!("{time}, at speed"),
            None => time,
        };
        let said = match &self.review {
            None => tr!("not reviewed yet").to_owned(),
            Some(review) if review.counted == 0 => tr!("holds in what counts").to_owned(),
            Some(review) => review.labels.join(", "),
        };
        let struck = match self.review.as_ref().and_then(|r| r.struck) {
            None => String::new(),
            Some(n) => tr!("; {n} struck by your coach"),
        };
        format!("{chosen}{time}: {said}{struck}")
    }
}

/// How many there are of what was asked for, in a sentence.
fn summary(shown: usize, found: usize, asked: &[String]) -> String {
    let asked = match asked {
        [] => String::new(),
        asked => format!(" {}", asked.join(", ")),
    };
    match (found, shown) {
        (0, _) if asked.is_empty() => {
            tr!("No attempt is locked yet; `foreply` opens a position to begin with.").to_owned()
        }
        (0, _) => tr!("Nothing{asked}; `foreply history` alone lists everything."),
        (1, 1) => tr!("One entry{asked}."),
        (n, m) if n == m => tr!("{} entries{asked}.", whole(n)),
        (n, m) => tr!("The newest {} of {} entries{asked}.", whole(m), whole(n)),
    }
}

/// As text: name, day, from where; below it what came of it. `found` is the number before the limit, `asked` the filter
/// in words.
#[must_use]
pub fn history_text(rows: &[HistoryRow], found: usize, asked: &[String]) -> String {
    let mut out = String::new();
    for row in rows {
        let told = [
            safe(&dates_in(&row.place)).into_owned(),
            safe(&row.outcome()).into_owned(),
        ];
        let lines = told.iter().flat_map(|part| wrap(part, WIDTH - INDENT));
        for (at, line) in lines.enumerate() {
            let head = match at {
                0 => format!("{:<5} {}", row.name, fit(&day(&row.date), date_columns())),
                _ => String::new(),
            };
            // Writing into a string does not fail.
            let _ = writeln!(out, "{head:<INDENT$}{line}");
        }
    }
    if !rows.is_empty() {
        out.push('\n');
    }
    for line in wrap(&safe(&summary(rows.len(), found, asked)), WIDTH) {
        let _ = writeln!(out, "{line}");
    }
    out
}

/// What was written and played out, the newest first (`foreply history --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    /// How many there are before the limit.
    found: usize,
    entries: &'a [HistoryRow],
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-history";
}

/// As JSON.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn history_json(rows: &[HistoryRow], found: usize) -> Result<String, serde_json::Error> {
    document_json(&Document {
        found,
        entries: rows,
    })
}

/// Every text that is put in is escaped.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("History") }}</h1>
<p>{{ summary }}</p>
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("name") }}</th><th>{{ tr!("day") }}</th><th>{{ tr!("from") }}</th><th>{{ tr!("what came of it") }}</th></tr>
{% for row in rows %}<tr><td><code>{{ row.name }}</code></td><td>{{ crate::text::day(row.date) }}</td><td>{{ crate::text::dates_in(row.place) }}</td><td>{{ outcome(row) }}</td></tr>
{% endfor %}</table></div>
"#
)]
struct Html<'a> {
    rows: &'a [HistoryRow],
    summary: String,
}

impl Html<'_> {
    fn outcome(&self, row: &HistoryRow) -> String {
        row.outcome()
    }
}

/// As one page of HTML that stands alone.
///
/// # Errors
/// The template cannot be filled; ours can.
pub fn history_html(
    rows: &[HistoryRow],
    found: usize,
    asked: &[String],
) -> Result<String, askama::Error> {
    let summary = summary(rows.len(), found, asked);
    sheet(tr!("history"), &Html { rows, summary })
}
