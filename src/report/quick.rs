//! Quick calculation as text, JSON and a page: ladder by ladder, week by week, and what speed costs.

use askama::Template;

use super::chart;
use super::progress_parts::{heading, paragraph, percent};
use super::progress_results::share;
use super::published::{Published, document_json};
use super::sheet::sheet;
use crate::progress::quick::{Ladder, Quick, QuickWeek, SpeedError, Threshold};
use crate::progress::stats::Rate;
use crate::text::{capital, clock, date, decimal};

/// Weeks of a ladder that are shown.
const WEEKS: usize = 16;

/// The page as the command prints it, 78 columns.
#[must_use]
pub fn quick_text(of: &Quick) -> String {
    let nothing = tr!(
        "Nothing tried at speed yet. `foreply practice --quick` opens a position of equal depth and difficulty under a \
         clock that becomes shorter while you solve three of four."
    );
    let next = tr!("`foreply practice --quick --ladder N` opens the next position of a ladder.");
    page(of, nothing) + &paragraph(next)
}

/// The same for the screens, where keys do what commands do.
#[must_use]
pub fn quick_page(of: &Quick) -> String {
    page(
        of,
        tr!(
            "Nothing tried at speed yet. Enter opens a position of equal depth and difficulty under a clock that becomes \
             shorter while you solve three of four."
        ),
    )
}

fn page(of: &Quick, nothing: &str) -> String {
    let mut out = heading(tr!("Quick calculation")).trim_start().to_owned();
    if of.is_empty() {
        out.push_str(&paragraph(nothing));
    }
    out.push_str(&quick_section(of));
    let rest = of.ladders.iter().filter(|l| l.solved.of == 0);
    for ladder in rest {
        out.push_str(&paragraph(&tr!("{} Not tried yet.", title(ladder))));
    }
    out
}

/// The ladders that were tried, and what speed costs; empty where nothing was tried.
pub(super) fn quick_section(of: &Quick) -> String {
    let tried = of.ladders.iter().filter(|l| l.solved.of > 0);
    let mut out: String = tried.map(ladder_text).collect();
    if !out.is_empty() {
        for sentence in errors(of) {
            out.push_str(&paragraph(&sentence));
        }
    }
    out
}

/// 'Ladder 2: 5 half-moves, difficulty 2 to 3 of 5; 96 of 108 positions are left.'
fn title(of: &Ladder) -> String {
    let left = match (of.left, of.positions) {
        (0, n) => tr!("all {n} positions tried"),
        (left, n) => tr!("{left} of {n} positions left"),
    };
    tr!(
        "Ladder {}: {} half-moves, difficulty {} of 5; {left}.",
        of.number,
        of.needed,
        of.grades
    )
}

fn ladder_text(of: &Ladder) -> String {
    let mut out = paragraph(&title(of));
    out.push_str(&paragraph(&standing(of)));
    out.push_str(tr!(
        "  week from    n  solved     clock  half-moves sound in a minute\n"
    ));
    for w in of.weeks.iter().rev().take(WEEKS).rev() {
        let solved = tr!("{} of {}", w.solved.part, w.solved.of);
        out.push_str(&format!(
            "  {} {:>3}  {solved:<9} {:>6}  {}\n",
            date(w.from),
            w.solved.of,
            clock(w.clock_ms),
            minute(w)
        ));
    }
    out
}

/// Solved, the next clock, and at which he solves three of four.
fn standing(of: &Ladder) -> String {
    tr!(
        "{}; the next clock is {}. {}",
        capital(&share(of.solved, tr!("solved"))),
        clock(of.clock_ms),
        three_of_four(of.threshold.as_ref())
    )
}

fn three_of_four(of: Option<&Threshold>) -> String {
    let time = |seconds: f64| clock((seconds * 1000.0) as u64);
    match of {
        None => tr!(
            "Within which time you solve three of four is not yet to be told: that takes 8 tries."
        )
        .to_owned(),
        Some(t) => tr!(
            "You solve three of four within {} ({} to {} with 95 %, from {}).",
            time(t.seconds),
            time(t.interval.low),
            time(t.interval.high),
            counted_tries(t.tries)
        ),
    }
}

fn counted_tries(n: usize) -> String {
    tr!(n; "{n} try" | "{n} tries")
}

/// '3.1 (2.2 to 4.0)'.
fn minute(of: &QuickWeek) -> String {
    let interval = of.interval.map_or_else(String::new, |i| {
        tr!(" ({} to {})", decimal(i.low, 1), decimal(i.high, 1))
    });
    format!("{}{interval}", decimal(of.per_minute, 1))
}

/// What speed costs, a sentence each.
fn errors(of: &Quick) -> Vec<String> {
    if of.errors.is_empty() {
        return vec![
            tr!("Which errors come of speed is not yet to be told: there is nothing to compare at equal difficulty.")
                .to_owned(),
        ];
    }
    let first =
        tr!("Kinds of findings at speed and without a hurry, at equal difficulty:").to_owned();
    std::iter::once(first)
        .chain(of.errors.iter().map(error))
        .collect()
}

fn error(of: &SpeedError) -> String {
    let verdict = match (of.of_speed, of.enough) {
        (true, _) => tr!("comes of speed"),
        (false, true) => tr!("not shown to come of speed"),
        (false, false) => tr!("not enough yet"),
    };
    tr!(
        "{}: {} at speed, {} without a hurry: {:+.0} points ({:+.0} to {:+.0}); {verdict}.",
        capital(of.kind.label()),
        parts(of.quick),
        parts(of.calm),
        of.difference * 100.0,
        of.interval.low * 100.0,
        of.interval.high * 100.0,
    )
}

fn parts(of: Rate) -> String {
    tr!("{} of {}", of.part, of.of)
}

impl Published for Quick {
    const FORMAT: &'static str = "foreply-quick";
}

/// The same, format `foreply-quick`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn quick_json(of: &Quick) -> Result<String, serde_json::Error> {
    document_json(of)
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("Quick calculation") }}</h1>
{% if of.is_empty() %}<p>{{ tr!("Nothing tried at speed yet. <code>foreply practice --quick</code> opens a position of equal depth and difficulty under a clock that\nbecomes shorter while you solve three of four.")|safe }}</p>{% endif %}
{{ parts|safe }}
{% if !untried.is_empty() %}<h2>{{ tr!("Not tried yet") }}</h2>
<ul>{% for l in untried %}<li>{{ l }}</li>
{% endfor %}</ul>{% endif %}
<p class="quiet">{{ tr!("Intervals are 95 %. A ladder holds positions of equal depth and difficulty; its clock becomes shorter by a ninth after each that you solve and\nlonger by four tenths after one that you do not, so it settles where you solve three of four.") }}</p>
"#
)]
struct Html<'a> {
    of: &'a Quick,
    parts: String,
    untried: Vec<String>,
}

/// The ladders that were tried: the same on the page of progress.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"{% for l in tried %}<h{{ level }}>{{ l.title }}</h{{ level }}>
<p>{{ l.standing }}</p>
<p class="quiet">{{ tr!("The clock of the tries, week by week (geometric mean).") }}</p>
<div class="pair">{{ l.chart|safe }}
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("week from") }}</th><th class="n">{{ tr!("tries") }}</th><th class="n">{{ tr!("solved") }}</th><th class="n">95 %</th><th class="n">{{ tr!("clock") }}</th><th class="n">{{ tr!("half-moves sound in a minute, 95 %") }}</th></tr>
{% for w in l.weeks %}<tr><td class="n">{{ crate::text::date(*w.from) }}</td><td class="n">{{ w.solved.of }}</td><td class="n">{{ w.solved.part }}</td><td class="n">{{ wilson(w.solved) }}</td><td class="n">{{ time(w.clock_ms) }}</td><td class="n">{{ minute(w) }}</td></tr>
{% endfor %}</table></div></div>
{% endfor %}
{% for sentence in errors %}<p>{{ sentence }}</p>
{% endfor %}"#
)]
struct Parts<'a> {
    tried: Vec<LadderHtml<'a>>,
    errors: Vec<String>,
    level: u8,
}

struct LadderHtml<'a> {
    title: String,
    standing: String,
    chart: String,
    weeks: &'a [QuickWeek],
}

impl Parts<'_> {
    fn wilson(&self, of: &Rate) -> String {
        let i = of.wilson();
        format!("{}-{} %", percent(i.low), percent(i.high))
    }

    fn time(&self, ms: &u64) -> String {
        clock(*ms)
    }

    fn minute(&self, week: &QuickWeek) -> String {
        minute(week)
    }
}

/// As HTML below a heading of that level; empty where nothing was tried.
pub(super) fn quick_parts(of: &Quick, level: u8) -> Result<String, askama::Error> {
    let tried: Vec<LadderHtml<'_>> = of
        .ladders
        .iter()
        .filter(|l| l.solved.of > 0)
        .map(|l| LadderHtml {
            title: title(l).trim_end_matches('.').to_owned(),
            standing: standing(l),
            chart: clocks(&l.weeks),
            weeks: l
                .weeks
                .get(l.weeks.len().saturating_sub(WEEKS)..)
                .unwrap_or_default(),
        })
        .collect();
    let errors = if tried.is_empty() {
        Vec::new()
    } else {
        errors(of)
    };
    let parts = Parts {
        tried,
        errors,
        level,
    };
    parts.render()
}

/// The clocks of the weeks.
fn clocks(weeks: &[QuickWeek]) -> String {
    let skipped = weeks.len().saturating_sub(WEEKS);
    let bar = |w: &QuickWeek| chart::Bar {
        label: date(w.from),
        value: w.clock_ms as f64,
        words: clock(w.clock_ms),
    };
    let bars: Vec<chart::Bar> = weeks.iter().skip(skipped).map(bar).collect();
    chart::bars(tr!("Clock of the tries, week by week"), &bars)
}

/// The page.
///
/// # Errors
/// The template fails; ours does not.
pub fn quick_html(of: &Quick) -> Result<String, askama::Error> {
    let untried = of.ladders.iter().filter(|l| l.solved.of == 0);
    let html = Html {
        of,
        parts: quick_parts(of, 2)?,
        untried: untried.map(title).collect(),
    };
    sheet(tr!("quick calculation"), &html)
}
