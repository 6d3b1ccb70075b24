//! What a coach has set, as text and as JSON; and the findings that he can rule on.

use askama::Template;
use jiff::{Timestamp, tz::TimeZone};
use serde::Serialize;

use super::paragraph;
use super::published::{Published, document_json};
use super::sheet::sheet;
use crate::attempt::Attempt;
use crate::coach;
use crate::review::{Finding, FindingStatus, Review};
use crate::text::{self, capital, ended};

/// One position that a coach set.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Task {
    /// The coach; may come from a file.
    pub by: String,
    /// The day on which it came in, in the player's time zone (YYYY-MM-DD).
    pub set: String,
    /// The day by which it is to be done.
    pub due: Option<String>,
    /// That day is over and it is not done.
    pub late: bool,
    /// What to do, in the coach's words; may be empty.
    pub words: String,
    /// The short name of the attempt on which he set it; empty for a position that he handed out to many.
    pub of: String,
    /// Of such a position its place in his file: 'position 3 of Autumn'; may come from a file.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub handed_out: Option<String>,
    /// Moves from that attempt's position, in SAN.
    pub path: Vec<String>,
    /// What was written to it; missing while it is not done.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub done: Option<TaskDone>,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct TaskDone {
    /// The short name of the attempt.
    pub attempt: String,
    /// The day on which it was opened.
    pub on: String,
}

/// The day of a time in milliseconds since 1970-01-01 UTC, as ISO 8601 writes it.
#[must_use]
pub fn day(wall_ms: i64, zone: &TimeZone) -> String {
    Timestamp::from_millisecond(wall_ms).map_or_else(
        |_| tr!("an unknown day").to_owned(),
        |at| at.to_zoned(zone.clone()).date().to_string(),
    )
}

const NONE: &str = tr_later!(
    "No homework is set. A coach sets it with 'Homework: what to do' in a comment of the file that comes back."
);

/// What is to be done before what is done, each group with its title.
fn groups(tasks: &[Task]) -> Vec<(&'static str, Vec<String>)> {
    let (done, open): (Vec<&Task>, Vec<&Task>) = tasks.iter().partition(|t| t.done.is_some());
    let said = |of: Vec<&Task>| of.into_iter().map(Task::sentence).collect();
    let mut groups = vec![(tr!("To do"), said(open)), (tr!("Done"), said(done))];
    groups.retain(|(_, sentences): &(_, Vec<String>)| !sentences.is_empty());
    groups
}

/// A paragraph a task, the open ones first as they are due.
#[must_use]
pub fn homework_text(tasks: &[Task]) -> String {
    if tasks.is_empty() {
        return paragraph(crate::translation::text(NONE), "");
    }
    let mut out = String::new();
    for (title, sentences) in groups(tasks) {
        out += &format!("{title}\n");
        out.extend(sentences.iter().map(|s| paragraph(s, " - ")));
    }
    if tasks.iter().any(|t| t.done.is_none()) {
        out += tr!("\n`foreply practice --homework` opens the first that is not done.\n");
    }
    out
}

impl Task {
    /// 'Bram Oskarn, 2026-11-27, by 2026-12-05, attempt 3fa after c7 Rd6+: find the move. Late.'
    fn sentence(&self) -> String {
        let due = self.due.as_ref();
        let due = due.map(|due| tr!(", by {}", text::day(due)));
        let place = match self.path.as_slice() {
            _ if self.handed_out.is_some() => self.handed_out.clone().unwrap_or_default(),
            [] => tr!("the position of attempt {}", self.of),
            path => tr!("attempt {} after {}", self.of, path.join(" ")),
        };
        let words = match self.words.trim() {
            "" => ".".to_owned(),
            words => format!(": {}", ended(words)),
        };
        let state = match &self.done {
            Some(done) => tr!(
                " Done on {}, attempt {}.",
                text::day(&done.on),
                done.attempt
            ),
            None if self.late => tr!(" Late.").to_owned(),
            None => String::new(),
        };
        let (by, set) = (&self.by, text::day(&self.set));
        format!(
            "{by}, {set}{}, {place}{words}{state}",
            due.unwrap_or_default()
        )
    }
}

/// What coaches have set, done or not (`foreply coach homework --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    /// What is due first at the top, those without a day behind them in the order in which they were set.
    tasks: &'a [Task],
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-homework";
}

/// As JSON.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn homework_json(tasks: &[Task]) -> Result<String, serde_json::Error> {
    document_json(&Document { tasks })
}

/// Every text that is put in is escaped.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("Homework") }}</h1>
{% if groups.is_empty() %}<p>{{ none }}</p>
{% endif %}{% for (title, sentences) in groups %}<h2>{{ title }}</h2>
<ul>
{% for sentence in sentences %}<li>{{ sentence }}</li>
{% endfor %}</ul>
{% endfor %}"#
)]
struct Html {
    none: &'static str,
    groups: Vec<(&'static str, Vec<String>)>,
}

/// As one page of HTML that stands alone.
///
/// # Errors
/// The template cannot be filled; ours can.
pub fn homework_html(tasks: &[Task]) -> Result<String, askama::Error> {
    let groups = groups(tasks);
    sheet(
        tr!("homework"),
        &Html {
            none: crate::translation::text(NONE),
            groups,
        },
    )
}

/// The findings that a coach can rule on, in the order in which they are numbered: those that count or few would find,
/// and those that he has struck.
#[must_use]
pub fn to_rule(review: &Review) -> Vec<&Finding> {
    let sent = |f: &&Finding| {
        use FindingStatus::{Counted, Overruled, Withheld};
        matches!(f.class, Counted | Withheld | Overruled)
    };
    review.findings.iter().filter(sent).collect()
}

/// The list of them, each with its number.
#[must_use]
pub fn findings_to_rule(review: &Review, attempt: &Attempt) -> String {
    let findings = to_rule(review);
    if findings.is_empty() {
        return tr!("There is no finding to rule on.\n").to_owned();
    }
    let words = attempt.coached().map(coach::layer).unwrap_or_default();
    let mut out = String::new();
    for (number, finding) in (1..).zip(findings) {
        let code = finding.kind.code();
        let mut rulings = words.iter().filter(|w| {
            let struck = w.struck.as_ref();
            struck.is_some_and(|s| s.names(&finding.paths, code, &finding.resource))
        });
        let state = match (finding.class, rulings.next()) {
            (FindingStatus::Overruled, Some(ruling)) => format!(" {}", ruling.sentence),
            (FindingStatus::Withheld, _) => tr!(" Few would find it: not counted.").to_owned(),
            _ => String::new(),
        };
        let label = capital(finding.kind.label());
        out += &paragraph(
            &format!("{label}. {}{state}", finding.sentence),
            &format!("{number}. "),
        );
    }
    out
}
