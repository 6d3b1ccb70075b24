//! An experiment with one's own practice, as text, JSON and a page.

use askama::Template;

use super::paragraph as lead;
use super::progress_parts::{heading, paragraph};
use super::progress_results::share;
use super::published::{Published, document_json};
use super::sheet::sheet;
use crate::progress::experiment::{
    ExperimentReport, ExperimentState, HabitCounts, Measured, TestResult,
};
use crate::progress::stats::Rate;
use crate::text::{capital, date, decimal, whole};

const NONE: &str = tr_later!(
    "No experiment was begun. `foreply experiment start --habit A --habit B` draws when each of two or three habits \
                    gets its block of practice; `foreply experiment --help` says what that can show."
);

/// The page, 78 columns.
#[must_use]
pub fn experiment_text(of: Option<&ExperimentReport>) -> String {
    let mut out = heading(tr!("Is the practice working?"))
        .trim_start()
        .to_owned();
    match of {
        Some(report) => out.push_str(&experiment_section(report)),
        None => out.push_str(&paragraph(crate::translation::text(NONE))),
    }
    out
}

/// The same without its heading, for the page of progress.
pub(super) fn experiment_section(of: &ExperimentReport) -> String {
    let mut out = paragraph(&opening(of));
    for habit in &of.habits {
        out.push_str(&paragraph(&practised(habit)));
        for (name, measured) in counts(habit) {
            out.push_str(&lead(&format!("{name}: {}.", split(measured)), "   "));
        }
    }
    for sentence in closing(of) {
        out.push_str(&paragraph(&sentence));
    }
    out
}

/// 'An experiment of 16 weeks from 2026-11-29 on; week 5. Sum over the draw: 3fa91c22.'
fn opening(of: &ExperimentReport) -> String {
    let (weeks, from, to) = (of.weeks, date(of.from), date(of.to));
    let state = match (of.state, of.week) {
        (ExperimentState::Running, Some(week)) => tr!("week {week} of {weeks}, until {to}"),
        (ExperimentState::Running, None) => tr!("{weeks} weeks, until {to}"),
        (ExperimentState::Over, _) => tr!("{weeks} weeks, over on {to}"),
        (ExperimentState::Stopped, _) => tr!("planned for {weeks} weeks, stopped on {to}"),
    };
    let seed = of.seed.map(|seed| tr!(", of the seed {seed}"));
    let earlier = match of.earlier {
        0 => String::new(),
        n => {
            tr!(n; " There was 1 experiment before it: of many, one in twenty finds something by chance." | " There were {n} experiments before it: of many, one in twenty finds something by chance.")
        }
    };
    tr!(
        "From {from}: {state}. Sum over the draw: {}{}.{earlier}",
        of.check,
        seed.unwrap_or_default()
    )
}

fn practised(of: &HabitCounts) -> String {
    match of.start {
        Some(week) => tr!("{}: practised from week {week} on.", capital(of.words)),
        None => tr!("{}: its week is drawn and has not come.", capital(of.words)),
    }
}

fn counts(of: &HabitCounts) -> [(&'static str, &Measured); 2] {
    [
        (tr!("Unseen drills"), &of.drills),
        (tr!("Own games"), &of.games),
    ]
}

/// '9 of 21 missed (24-63 %) before, 5 of 18 missed (12-51 %) from then on'.
fn split(of: &Measured) -> String {
    match (of.before.of, of.after.of) {
        (0, 0) => tr!("nothing counted yet").to_owned(),
        (_, 0) => tr!("{} before, nothing from then on yet", missed(of.before)),
        (0, _) => tr!("nothing before, {} from then on", missed(of.after)),
        _ => tr!(
            "{} before, {} from then on",
            missed(of.before),
            missed(of.after)
        ),
    }
}

fn missed(rate: Rate) -> String {
    share(rate, tr!("missed"))
}

/// What may be said, a sentence each.
fn closing(of: &ExperimentReport) -> Vec<String> {
    let verdict = capital(of.verdict.words());
    match (&of.test, of.state) {
        (Some(test), _) => vec![
            format!("{verdict}: {}.", tested(test)),
            tr!(
                "In {} of 100 experiments with as many cases an effect of 20 points would be found.",
                test.power
            ),
        ],
        (None, ExperimentState::Running) => vec![tr!(
            "{verdict}: the draw is tested once, when the {} weeks are over.",
            of.weeks
        )],
        (None, ExperimentState::Stopped) => vec![format!("{verdict}.")],
        (None, ExperimentState::Over) => vec![tr!(
            "{verdict}: no habit was counted both before and after its block began."
        )],
    }
}

fn tested(of: &TestResult) -> String {
    let points = of.effect * 100.0;
    let effect = match points {
        p if p >= 0.5 => tr!("{p:.0} points fewer missed from the blocks on"),
        p if p <= -0.5 => tr!("{:.0} points more missed from the blocks on", -p),
        _ => tr!("as many missed from the blocks on as before").to_owned(),
    };
    let as_great = (of.p * of.draws as f64).round();
    tr!(
        "{effect}; as few or fewer in {} of the {} draws that could have been (p = {})",
        whole(as_great),
        whole(of.draws),
        decimal(of.p, 3)
    )
}

/// Whether the practice works (`foreply experiment show --format json`).
#[derive(serde::Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    /// The last experiment; null where none was begun.
    experiment: Option<&'a ExperimentReport>,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-experiment";
}

/// The same, format `foreply-experiment`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn experiment_json(of: Option<&ExperimentReport>) -> Result<String, serde_json::Error> {
    document_json(&Document { experiment: of })
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("Is the practice working?") }}</h1>
{% if parts.is_empty() %}<p>{{ tr!("No experiment was begun. <code>foreply experiment start --habit A --habit B</code> draws when each of two or three habits gets\nits block of practice.")|safe }}</p>{% endif %}
{{ parts|safe }}
<p class="quiet">{{ tr!("Unseen drills are those of the half of the positions that no block practises with. The draw is tested by randomisation: what was missed is\ntaken as it is, and held against every draw that could have been.") }}</p>
"#
)]
struct Html {
    parts: String,
}

/// The same on the page of progress.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<p>{{ opening }}</p>
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("habit") }}</th><th>{{ tr!("practised from week") }}</th><th></th><th class="n">{{ tr!("missed before") }}</th><th class="n">95 %</th><th class="n">{{ tr!("from then on") }}</th><th class="n">95 %</th></tr>
{% for h in of.habits %}{% for c in counts(h) %}<tr><td>{{ h.words }}</td><td class="n">{% if let Some(w) = h.start %}{{ w }}{% else %}{{ tr!("to come") }}{% endif %}</td><td>{{ c.0 }}</td><td class="n">{{ part(c.1.before) }}</td><td class="n">{{ wilson(c.1.before) }}</td><td class="n">{{ part(c.1.after) }}</td><td class="n">{{ wilson(c.1.after) }}</td></tr>
{% endfor %}{% endfor %}</table></div>
{% for sentence in closing %}<p>{{ sentence }}</p>
{% endfor %}"#
)]
struct Parts<'a> {
    of: &'a ExperimentReport,
    opening: String,
    closing: Vec<String>,
}

impl Parts<'_> {
    fn counts<'b>(&self, habit: &'b HabitCounts) -> [(&'static str, &'b Measured); 2] {
        counts(habit)
    }

    fn part(&self, of: &Rate) -> String {
        match of.of {
            0 => String::new(),
            n => tr!("{} of {n}", of.part),
        }
    }

    fn wilson(&self, of: &Rate) -> String {
        let i = of.wilson();
        match of.of {
            0 => String::new(),
            _ => format!("{:.0}-{:.0} %", i.low * 100.0, i.high * 100.0),
        }
    }
}

pub(super) fn experiment_parts(of: &ExperimentReport) -> Result<String, askama::Error> {
    Parts {
        of,
        opening: opening(of),
        closing: closing(of),
    }
    .render()
}

/// The page.
///
/// # Errors
/// The template fails; ours does not.
pub fn experiment_html(of: Option<&ExperimentReport>) -> Result<String, askama::Error> {
    let parts = of.map(experiment_parts).transpose()?.unwrap_or_default();
    sheet(tr!("is the practice working"), &Html { parts })
}
