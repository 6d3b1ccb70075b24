//! Time and conversion of own games as one page of HTML that stands alone and can be printed: each chart with
//! its numbers as a table below it.

use askama::Template;

use super::chart::{self, Bar, Point};
use super::games::By;
use super::games_clock::{fifths, rows, slipped, sources, trouble};
use super::sheet::sheet;
use crate::games::clock::{Clock, Thinks};
use crate::games::conversion::{Height, Month};
use crate::games::survey::Surveyed;
use crate::text;

/// Every text that is put in is escaped; only the charts, which are ours, are not.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("Time in your games") }}</h1>
{% if clock.games == 0 %}
<p>{{ tr!("No clock times in your games: nothing can be said about time.") }}</p>
{% else %}
<p>{{ tr!("{} with times, {} without. {}", text::whole(self.clock.games), text::whole(self.clock.without), self.trouble) }}</p>
<h2>{{ tr!("Time a move") }}</h2>
{{ times|safe }}
<h2>{{ tr!("What a think brought") }}</h2>
<p class="quiet">{{ tr!("Expected score given away a move, from your fastest thinks to your longest.") }}</p>
{{ outcome|safe }}
<h2>{{ tr!("The numbers") }}</h2>
<table>
<tr><th></th><th class="n">{{ tr!("moves") }}</th><th class="n">{{ tr!("a move") }}</th><th class="n">{{ tr!("of all time") }}</th><th class="n">{{ tr!("lost a move") }}</th></tr>
{% for r in rows %}<tr><td>{{ text::figures_in(r.0) }}</td><td class="n">{{ text::whole(r.1.moves) }}</td><td class="n">{{ mean(r.1) }}</td><td class="n">{{ share(r.1) }} %</td><td class="n">{{ lost(r.1) }}</td></tr>
{% endfor %}</table>
<p class="quiet">{{ sources }}</p>
{% endif %}
<h2>{{ tr!("From an advantage to points") }}</h2>
<table>
<tr><th>{{ tr!("stood at") }}</th><th class="n">{{ tr!("games") }}</th><th class="n">{{ tr!("points") }}</th></tr>
{% for h in heights %}<tr><td>{{ tr!("{} or more", self.two(&h.from)) }}</td><td class="n">{{ h.games }}</td><td class="n">{{ text::plain(*h.points) }}</td></tr>
{% endfor %}</table>
<ul>{% for s in slips %}<li>{{ s }}</li>{% endfor %}</ul>
{% if months.len() > 1 %}
<p class="quiet">{{ tr!("Share of the points, month by month, of the games from {} on.", text::share(0.7, 2)) }}</p>
{{ trend|safe }}
<table>
<tr><th>{{ tr!("month") }}</th><th class="n">{{ tr!("games") }}</th><th class="n">{{ tr!("points") }}</th></tr>
{% for m in months %}<tr><td>{{ text::month(m.month) }}</td><td class="n">{{ m.games }}</td><td class="n">{{ text::plain(*m.points) }}</td></tr>
{% endfor %}</table>
{% endif %}
<p class="quiet">{{ tr!("Judged by") }} {{ by.engine }}, {{ text::whole(by.nodes) }} {{ tr!("nodes for each position. A coach's judgement outranks an\nengine's number.")|safe }}</p>
"#
)]
struct Html<'a> {
    clock: &'a Clock,
    heights: &'a [Height],
    months: &'a [Month],
    rows: Vec<(&'static str, Thinks)>,
    slips: Vec<String>,
    trouble: String,
    sources: String,
    times: String,
    outcome: String,
    trend: String,
    by: By<'a>,
}

impl Html<'_> {
    fn mean(&self, of: &Thinks) -> String {
        text::clock((of.mean() * 1000.0) as u64)
    }

    fn share(&self, of: &Thinks) -> String {
        format!(
            "{:.0}",
            100.0 * of.seconds / self.clock.all.seconds.max(1.0)
        )
    }

    fn lost(&self, of: &Thinks) -> String {
        text::decimal(of.lost_a_move(), 3)
    }

    fn two(&self, value: &f64) -> String {
        text::decimal(*value, 2)
    }
}

/// The page.
///
/// # Errors
/// The template fails; ours does not.
pub fn clock_html(
    games: &[Surveyed],
    clock: &Clock,
    heights: &[Height],
    by: By<'_>,
) -> Result<String, askama::Error> {
    let rows = rows(clock);
    let lowest = heights.first();
    let months = lowest.map_or(&[][..], |h| h.months.as_slice());
    let html = Html {
        clock,
        heights,
        months,
        slips: lowest
            .map(|h| h.slips.iter().map(|s| slipped(games, s)).collect())
            .unwrap_or_default(),
        trouble: trouble(clock),
        sources: sources(),
        times: chart::bars(tr!("Time a move"), &times(&rows)),
        outcome: chart::bars(
            tr!("Expected score lost a move, by think time"),
            &outcome(clock),
        ),
        trend: chart::line(
            tr!("Share of the points from an advantage, month by month"),
            &trend(months),
        ),
        rows,
        by,
    };
    sheet(tr!("time in your games"), &html)
}

fn times(rows: &[(&'static str, Thinks)]) -> Vec<Bar> {
    let told = rows
        .iter()
        .filter(|(name, of)| !fifths().contains(name) && of.moves > 0);
    told.map(|(name, of)| Bar {
        label: text::figures_in(name.trim()).into_owned(),
        value: of.mean(),
        words: text::clock((of.mean() * 1000.0) as u64),
    })
    .collect()
}

fn outcome(clock: &Clock) -> Vec<Bar> {
    let fifths = fifths().into_iter().zip(&clock.fifths);
    fifths
        .map(|(name, of)| Bar {
            label: name.to_owned(),
            value: of.lost_a_move(),
            words: text::decimal(of.lost_a_move(), 3),
        })
        .collect()
}

fn trend(months: &[Month]) -> Vec<Point> {
    let point = |m: &Month| Point {
        label: text::month(&m.month),
        value: m.points / m.games.max(1) as f64,
        bounds: None,
    };
    months.iter().map(point).collect()
}
