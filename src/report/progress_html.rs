//! Progress as one page of HTML that stands alone and can be printed: each chart with its numbers as a
//! table below it.

use askama::Template;

use super::chart::{self, Point};
use crate::progress::report::Report;
use crate::progress::{Spot, State};

/// Every text that is put in is escaped; only the charts, which are ours, are not.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Foreply: progress</title>
<style>
body { font: 11pt/1.45 Georgia, serif; max-width: 44em; margin: 2em auto; padding: 0 1em; color: #111; }
h1, h2 { font-weight: normal; } h2 { border-bottom: 1px solid #aaa; margin-top: 1.6em; }
table { border-collapse: collapse; font-size: 10pt; } th, td { padding: .15em .7em .15em 0; text-align: left; vertical-align: top; }
td.n, th.n { text-align: right; } th { font-weight: normal; color: #555; border-bottom: 1px solid #ccc; }
svg { width: 100%; height: auto; } .quiet { color: #555; }
@media print { body { margin: 0; max-width: none; } h2, table, svg { break-inside: avoid; } }
</style>
</head>
<body>
<h1>Progress</h1>
{% if report.attempts == 0 %}
<p>No reviewed attempt yet, so there is nothing to count. What will stand here: from 10 attempts on whether your
verdicts are too hopeful or too gloomy; from 20 moments of one kind on the kinds of moves that you miss more
often than your others; week by week how deep your calculation held; after a month the last four weeks
against the twelve before.</p>
{% else %}
<table><caption class="quiet">What is counted, each kind apart</caption>
<tr><th class="n">attempts</th><th>kind</th><th class="n">missed</th></tr>
{% for g in report.groups %}<tr><td class="n">{{ g.attempts }}</td><td>{{ g.words }}</td><td class="n">{{ g.missed.part }} of {{ g.missed.of }}</td></tr>
{% endfor %}</table>

<h2>What you miss more often than your other moves</h2>
{% if found.is_empty() %}<p>Not enough yet to name a blind spot, or none there.</p>{% endif %}
{% for s in found %}<p><strong>{{ s.sentence() }}</strong><br>{{ s.habit() }}</p>
<ul>{% for row in moments(s) %}<li>{{ row }}</li>{% endfor %}</ul>
{% endfor %}
<table>
<tr><th>kind</th><th class="n">missed</th><th class="n">95 %</th><th class="n">others</th><th></th></tr>
{% for s in report.spots %}<tr><td>{{ s.words }}</td><td class="n">{{ s.missed.part }} of {{ s.missed.of }}</td><td class="n">{{ percent(s.interval.low) }}-{{ percent(s.interval.high) }} %</td><td class="n">{{ others(s) }}</td><td>{{ state(s) }}</td></tr>
{% endfor %}</table>

<h2>Your verdicts, stated against true</h2>
{% if let Some(all) = report.judgement.all %}
<p>On average {{ points(all.signed) }} points, {{ all.words() }}; off by {{ percent(all.absolute) }} points either way
({{ all.verdicts }} verdicts in {{ all.attempts }} attempts).</p>
{{ diagram|safe }}
<table>
<tr><th class="n">you said</th><th class="n">it was</th><th class="n">verdicts</th></tr>
{% for b in report.judgement.diagram %}<tr><td class="n">{{ percent(b.stated) }} %</td><td class="n">{{ percent(b.came) }} %</td><td class="n">{{ b.count }}</td></tr>
{% endfor %}</table>
<table>
<tr><th>where</th><th class="n">stated less true</th><th class="n">attempts</th><th></th></tr>
{% for p in report.judgement.parts %}<tr><td>{{ p.0 }}</td><td class="n">{{ points(p.1.signed) }}</td><td class="n">{{ p.1.attempts }}</td><td>{{ p.1.words() }}</td></tr>
{% endfor %}</table>
{% else %}<p>No verdict written yet.</p>{% endif %}

<h2>Week by week</h2>
<p class="quiet">Share of the needed depth that held, at equal difficulty.</p>
{{ weeks|safe }}
<table>
<tr><th>from</th><th class="n">attempts</th><th class="n">needed</th><th class="n">reached</th><th class="n">sound</th><th class="n">held</th></tr>
{% for w in report.weeks %}<tr><td>{{ w.from }}</td><td class="n">{{ w.attempts }}</td><td class="n">{{ one(w.needed) }}</td><td class="n">{{ one(w.reached) }}</td><td class="n">{{ one(w.sound) }}</td><td class="n">{{ percent(w.sound_share) }} %</td></tr>
{% endfor %}</table>

<h2>The last four weeks against the twelve before</h2>
<p>Sittings: {{ report.account.sittings }} in four weeks, {{ report.account.before }} in the twelve before{% if let Some(n) = report.account.plan.sittings %}; planned: {{ n }} a week{% endif %}.</p>
<table>
<tr><th></th><th class="n">now</th><th class="n">before</th><th class="n">points</th><th></th></tr>
{% for c in changes() %}<tr><td>{{ c.0 }}</td><td class="n">{{ c.1.now.part }} of {{ c.1.now.of }}</td><td class="n">{{ c.1.before.part }} of {{ c.1.before.of }}</td><td class="n">{{ points(c.1.difference) }} ({{ points(c.1.interval.low) }} to {{ points(c.1.interval.high) }})</td><td>{{ c.1.verdict.words() }}</td></tr>
{% endfor %}</table>

<h2>Kinds of findings, and your own words</h2>
<table>
{% for k in report.kinds %}<tr><td class="n">{{ k.1 }}</td><td>{{ k.0.words() }}</td></tr>
{% endfor %}{% for c in report.causes %}<tr><td class="n">{{ c.count }}</td><td>'{{ c.words }}'</td></tr>
{% endfor %}</table>
{% endif %}
<p class="quiet">Intervals are 95 %. Shares of few cases say little: where they do not suffice the page says so.
A coach's judgement outranks an engine's number.</p>
</body>
</html>
"#
)]
struct Html<'a> {
    report: &'a Report,
    found: Vec<&'a Spot>,
    weeks: String,
    diagram: String,
}

impl Html<'_> {
    fn moments(&self, spot: &Spot) -> Vec<String> {
        let row = |(id, at): &(String, usize)| {
            let moment = self.report.moments.get(id)?.get(*at)?;
            let path = moment.path.join(" ");
            Some(format!(
                "{}, after {path} (foreply review {id})",
                moment.resource
            ))
        };
        spot.moments.iter().rev().filter_map(row).collect()
    }

    fn changes(&self) -> Vec<(&str, crate::progress::account::Change)> {
        let account = &self.report.account;
        let habit = account.habit.as_ref().map(|(words, c)| (*words, *c));
        std::iter::once(("all that had to be seen", account.all))
            .chain(habit)
            .collect()
    }
}

/// The page.
///
/// # Errors
/// The template fails; ours does not.
pub fn progress_html(report: &Report) -> Result<String, askama::Error> {
    let weeks: Vec<Point> = report
        .weeks
        .iter()
        .map(|w| Point {
            label: w.from.to_string(),
            value: w.sound_share,
            bounds: w.interval.map(|i| (i.low, i.high)),
        })
        .collect();
    let bins: Vec<(f64, f64, usize)> = report
        .judgement
        .diagram
        .iter()
        .map(|b| (b.stated, b.came, b.count))
        .collect();
    let html = Html {
        report,
        found: report
            .spots
            .iter()
            .filter(|s| s.state == State::Found)
            .collect(),
        weeks: chart::line("Share of the needed depth that held, week by week", &weeks),
        diagram: chart::agreement("What you said (across) against what it was (up)", &bins),
    };
    html.render()
}

/// Numbers and words of the template.
impl Html<'_> {
    fn percent(&self, share: &f64) -> String {
        format!("{:.0}", share * 100.0)
    }

    fn points(&self, share: &f64) -> String {
        format!("{:+.0}", share * 100.0)
    }

    fn one(&self, value: &f64) -> String {
        format!("{value:.1}")
    }

    fn others(&self, spot: &Spot) -> String {
        spot.others
            .map_or_else(String::new, |o| format!("{} of {}", o.part, o.of))
    }

    fn state(&self, spot: &Spot) -> &'static str {
        match spot.state {
            State::Found => "blind spot",
            State::NoWeakness => "no weakness",
            State::NotEnoughYet => "not enough yet",
            State::Difficulty => "difficulty, no weakness by itself",
        }
    }
}
