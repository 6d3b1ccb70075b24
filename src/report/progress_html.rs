//! Progress as one page of HTML that stands alone and can be printed: each chart with its numbers as a
//! table below it.

use askama::Template;

use super::chart::{self, Point};
use super::experiment::experiment_parts;
use super::quick::quick_parts;
use super::sheet::sheet;
use super::{progress, progress_results};
use crate::progress::converting::Row;
use crate::progress::course::Week;
use crate::progress::report::Report;
use crate::progress::stats::{Interval, Rate};
use crate::progress::{Spot, State};
use crate::text;

/// Every text that is put in is escaped; only the charts, which are ours, are not.
#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("Progress") }}</h1>
{% if report.attempts == 0 %}
<p>{{ tr!("No reviewed attempt yet, so there is nothing to count. What will stand here: from 10 attempts on whether your\nverdicts are too hopeful or too gloomy; from 20 moments of one kind on the kinds of moves that you miss more\noften than your others; week by week how deep your calculation held; after a month the last four weeks\nagainst the twelve before; from 10 games on how often you win what you should.") }}</p>
{% endif %}
{% for note in notes() %}<p class="quiet">{{ note }}</p>
{% endfor %}
{% if report.attempts > 0 %}
<div class="wide" tabindex="0"><table><caption class="quiet">{{ tr!("What is counted, each kind apart") }}</caption>
<tr><th class="n">{{ tr!("attempts") }}</th><th>{{ tr!("kind") }}</th><th class="n">{{ tr!("missed") }}</th><th class="n">95 %</th></tr>
{% for g in report.groups %}<tr><td class="n">{{ g.attempts }}</td><td>{{ g.words }}</td><td class="n">{{ tr!("{} of {}", g.missed.part, g.missed.of) }}</td><td class="n">{{ wilson(g.missed) }}</td></tr>
{% endfor %}</table></div>

<h2>{{ tr!("What you miss more often than your other moves") }}</h2>
{% if let Some(main) = report.main %}<p class="quiet">{{ tr!("Counted: {}.", main.words) }}</p>{% endif %}
{% if found.is_empty() %}<p>{{ none_named() }}</p>{% endif %}
{% for s in found %}<div class="spot"><p><strong>{{ s.sentence() }}</strong><br>{{ s.habit() }}</p>
{% let told = moments(s) %}<ul>{% for m in told.0 %}<li>{{ m.words }} <code class="quiet">{{ m.command }}</code></li>{% endfor %}{% if told.1 > 0 %}<li class="quiet">{{ tr!("and {} more", told.1) }}</li>{% endif %}</ul></div>
{% endfor %}
{% if !kinds_of_moves.is_empty() %}<p class="quiet">{{ tr!("How often each kind was missed, with its 95 % interval.") }}</p>
<div class="pair">{{ missed|safe }}
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("kind") }}</th><th class="n">{{ tr!("missed") }}</th><th class="n">95 %</th><th class="n">{{ tr!("others") }}</th><th class="n">{{ tr!("points more, 95 %") }}</th><th></th><th class="n">{{ tr!("moments that would tell") }}</th></tr>
{% for s in kinds_of_moves %}<tr><td>{{ s.words }}</td><td class="n">{{ tr!("{} of {}", s.missed.part, s.missed.of) }}</td><td class="n">{{ wilson(s.missed) }}</td><td class="n">{{ others(s) }}</td><td class="n">{{ more(s) }}</td><td class="s">{{ state(s) }}</td><td class="n">{{ needed(s) }}</td></tr>
{% endfor %}</table></div></div>
{% endif %}

<h2>{{ tr!("Your verdicts, stated against true") }}</h2>
{% if let Some(all) = report.judgement.all %}
<p>{{ tr!("On average {} points: {}. Off by {} points either way\n({} verdicts in {} attempts).", self.points(&all.signed), all.words(), self.percent(&all.absolute), all.verdicts, all.attempts) }}</p>
<p class="quiet">{{ tr!("Across: what you said. Up: what it was. On the broken line they agree; below it you were too\nhopeful. The wider a circle, the more verdicts.") }}</p>
<div class="pair">{{ diagram|safe }}
<div class="wide" tabindex="0"><table>
<tr><th class="n">{{ tr!("you said") }}</th><th class="n">{{ tr!("it was") }}</th><th class="n">{{ tr!("verdicts") }}</th></tr>
{% for b in report.judgement.diagram %}<tr><td class="n">{{ percent(b.stated) }} %</td><td class="n">{{ percent(b.came) }} %</td><td class="n">{{ b.count }}</td></tr>
{% endfor %}</table></div></div>
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("where") }}</th><th class="n">{{ tr!("stated less true") }}</th><th class="n">95 %</th><th class="n">{{ tr!("off") }}</th><th class="n">{{ tr!("attempts") }}</th><th></th></tr>
{% for p in report.judgement.parts %}<tr><td>{{ p.0 }}</td><td class="n">{{ points(p.1.signed) }}</td><td class="n">{{ range(p.1.interval) }}</td><td class="n">{{ percent(p.1.absolute) }}</td><td class="n">{{ p.1.attempts }}</td><td class="s">{{ p.1.words() }}</td></tr>
{% endfor %}</table></div>
{% else %}<p>{{ tr!("No verdict written yet: put one at the end of a line.") }}</p>{% endif %}
{% for sentence in results() %}<p>{{ sentence }}</p>
{% endfor %}

<h2>{{ tr!("Week by week") }}</h2>
{% if late.is_empty() %}<p>{{ tr!("No attempt with a depth yet.") }}</p>{% else %}
<p class="quiet">{{ tr!("How much of the needed depth held, in percent, at equal difficulty, with its 95 % interval.") }}</p>
<div class="pair">{{ weeks|safe }}
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("from") }}</th><th class="n">{{ tr!("attempts") }}</th><th class="n">{{ tr!("needed") }}</th><th class="n">{{ tr!("reached") }}</th><th class="n">{{ tr!("sound") }}</th><th class="n">{{ tr!("held") }}</th><th class="n">{{ tr!("reached") }}</th><th class="n">{{ tr!("reply") }}</th><th class="n">{{ tr!("dropped") }}</th></tr>
{% for w in late %}<tr><td class="n">{{ text::date(*w.from) }}</td><td class="n">{{ w.attempts }}</td><td class="n">{{ one(w.needed) }}</td><td class="n">{{ one(w.reached) }}</td><td class="n">{{ one(w.sound) }}</td><td class="n">{{ percent(w.sound_share) }} %</td><td class="n">{{ percent(w.reached_share) }} %</td><td class="n">{{ time(w.first_reply_ms) }}</td><td class="n">{{ part(w.dropped) }}</td></tr>
{% endfor %}</table></div></div>
<p class="quiet">{{ tr!("Needed, reached and sound in half-moves; held and reached in percent at equal difficulty; median time to the first reply that\nyou wrote, at equal difficulty too; share of the time that went to candidates you dropped.") }}</p>
<div class="wide" tabindex="0"><table><caption class="quiet">{{ tr!("By difficulty") }}</caption>
<tr><th>{{ tr!("half-moves needed") }}</th><th>{{ tr!("plausible moves") }}</th><th class="n">{{ tr!("attempts") }}</th><th class="n">{{ tr!("held") }}</th><th class="n">{{ tr!("reached") }}</th><th class="n">{{ tr!("first reply") }}</th></tr>
{% for d in report.difficulty %}<tr><td>{{ d.needed }}</td><td>{{ d.plausible }}</td><td class="n">{{ d.attempts }}</td><td class="n">{{ percent(d.held) }} %</td><td class="n">{{ percent(d.reached) }} %</td><td class="n">{{ time(d.first_reply_ms) }}</td></tr>
{% endfor %}</table></div>
{% if !report.grades.is_empty() %}<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("grade of the drill") }}</th><th class="n">{{ tr!("solved") }}</th><th class="n">95 %</th></tr>
{% for g in report.grades %}<tr><td>{{ g.0 }}</td><td class="n">{{ tr!("{} of {}", g.1.part, g.1.of) }}</td><td class="n">{{ wilson(g.1) }}</td></tr>
{% endfor %}</table></div>{% endif %}
{% endif %}
{% endif %}
{% for games in advantages() %}
<h2>{{ games.title }}</h2>
<p class="quiet">{{ games.words }}</p>
<div class="pair">{{ games.chart|safe }}
<div class="wide" tabindex="0"><table>
<tr><th>{{ tr!("your expected score") }}</th><th class="n">{{ tr!("won") }}</th><th class="n">95 %</th><th></th></tr>
{% for r in games.rows %}<tr><td>{{ text::figures_in(r.words) }}</td><td class="n">{{ tr!("{} of {}", r.won.part, r.won.of) }}</td><td class="n">{{ wilson(r.won) }}</td><td class="s">{% if !r.enough %}{{ tr!("not enough yet") }}{% endif %}</td></tr>
{% endfor %}</table></div></div>
{% endfor %}
{% if !report.quick.is_empty() %}
<h2>{{ tr!("Calculation at speed") }}</h2>
{{ quick|safe }}
{% endif %}
{% if !experiment.is_empty() %}
<h2>{{ tr!("Is the practice working?") }}</h2>
{{ experiment|safe }}
{% endif %}
{% if report.recognising.games > 0 %}
<h2>{{ tr!("Where your own games turned, named by you first") }}</h2>
{% for sentence in recognised() %}<p>{{ sentence }}</p>
{% endfor %}
<div class="wide"><table>
<tr><th>{{ tr!("month") }}</th><th class="n">{{ tr!("games") }}</th><th class="n">{{ tr!("turning points named") }}</th><th class="n">95 %</th><th class="n">{{ tr!("your moments right") }}</th></tr>
{% for m in report.recognising.months %}<tr><td>{{ crate::text::month(m.month) }}</td><td class="n">{{ m.games }}</td><td class="n">{{ tr!("{} of {}", m.named.part, m.named.of) }}</td><td class="n">{{ wilson(m.named) }}</td><td class="n">{{ tr!("{} of {}", m.right.part, m.right.of) }}</td></tr>
{% endfor %}</table></div>
{% endif %}
{% if report.attempts > 0 %}

<h2>{{ tr!("The last four weeks against the twelve before") }}</h2>
<p>{{ tr!("Sittings: {} in four weeks, {} in the twelve before", self.report.account.sittings, self.report.account.before) }}{% if let Some(n) = report.account.plan.sittings %}{{ tr!("; planned: {} a week", n) }}{% endif %}.</p>
<div class="wide" tabindex="0"><table>
<tr><th></th><th class="n">{{ tr!("missed now") }}</th><th class="n">{{ tr!("before") }}</th><th class="n">{{ tr!("points") }}</th><th></th></tr>
{% for c in changes() %}<tr><td>{{ c.0 }}</td><td class="n">{{ tr!("{} of {}", c.1.now.part, c.1.now.of) }}</td>{% if c.1.before.of == 0 %}<td></td><td></td><td>{{ tr!("nothing before to compare with") }}</td>{% else %}<td class="n">{{ tr!("{} of {}", c.1.before.part, c.1.before.of) }}</td><td class="n">{{ tr!("{} ({} to {})", self.points(&c.1.difference), self.points(&c.1.interval.low), self.points(&c.1.interval.high)) }}</td><td>{{ c.1.verdict.words() }}</td>{% endif %}</tr>
{% endfor %}</table></div>
{% if report.account.solved_again.of > 0 %}<p>{{ tr!("Failed before and tried again: {} of {} solved.", self.report.account.solved_again.part, self.report.account.solved_again.of) }}</p>{% endif %}

<h2>{{ tr!("Kinds of findings, and your own words for why") }}</h2>
{% if report.kinds.is_empty() %}<p>{{ tr!("No finding counted yet.") }}</p>{% else %}<div class="wide" tabindex="0"><table>
<tr><th class="n">{{ tr!("attempts") }}</th><th>{{ tr!("the review says") }}</th></tr>
{% for k in report.kinds %}<tr><td class="n">{{ k.1 }}</td><td>{{ k.0.label() }}</td></tr>
{% endfor %}</table></div>{% endif %}
{% if !report.causes.is_empty() %}<div class="wide" tabindex="0"><table>
<tr><th class="n">{{ tr!("times") }}</th><th>{{ tr!("you say") }}</th><th>{{ tr!("for") }}</th><th></th></tr>
{% for c in report.causes %}<tr><td class="n">{{ c.count }}</td><td>{{ c.title() }}</td><td>{{ c.kinds_in_words() }}</td><td>{{ c.sentence() }}</td></tr>
{% endfor %}</table></div>{% endif %}
{% endif %}
<p class="quiet">{{ tr!("Intervals are 95 %. Shares of few cases say little: where they do not suffice the page says so.\nA coach's judgement outranks an engine's number.")|safe }}</p>
"#
)]
struct Html<'a> {
    report: &'a Report,
    found: Vec<&'a Spot>,
    /// Kinds of moves with enough moments to be shown.
    kinds_of_moves: Vec<&'a Spot>,
    late: Vec<&'a Week>,
    missed: String,
    weeks: String,
    diagram: String,
    /// A template of ours, filled.
    quick: String,
    experiment: String,
}

/// Advantages of one kind of game.
struct Advantages<'a> {
    title: &'static str,
    words: String,
    chart: String,
    rows: &'a [Row],
}

impl Html<'_> {
    fn none_named(&self) -> String {
        progress::none_named(self.report)
    }

    fn more(&self, spot: &Spot) -> String {
        progress::points_more(spot)
    }

    fn needed(&self, spot: &Spot) -> String {
        let needed = spot.needed.filter(|_| spot.state == State::NotEnoughYet);
        needed.map_or_else(String::new, |n| n.to_string())
    }

    fn notes(&self) -> Vec<String> {
        progress::notes(self.report)
    }

    fn recognised(&self) -> Vec<String> {
        progress_results::recognised(&self.report.recognising)
    }

    fn results(&self) -> Vec<String> {
        progress_results::against(&self.report.judgement.results)
    }

    fn moments(&self, spot: &Spot) -> (Vec<progress::Missed>, usize) {
        progress::moments(self.report, spot)
    }

    fn changes(&self) -> Vec<(&str, crate::progress::account::Change)> {
        let account = &self.report.account;
        let habit = account.habit.as_ref().map(|(words, c)| (*words, *c));
        std::iter::once((tr!("all that had to be seen"), account.all))
            .chain(habit)
            .collect()
    }

    fn advantages(&self) -> Vec<Advantages<'_>> {
        let of = &self.report.converting;
        let played = tr!(
            "{} of {} positions won twice in a row. A game that stood at {} stood at {} as well.",
            of.twice.part,
            of.twice.of,
            text::share(0.95, 2),
            text::share(0.7, 2)
        );
        let own = tr!(
            "Of {} judged games with a result, those in which you stood better.",
            of.judged
        );
        let titles = [
            (tr!("Advantages that you played out"), played, &of.play_outs),
            (tr!("Advantages in your own games"), own, &of.own_games),
        ];
        titles
            .into_iter()
            .filter(|(.., rows)| !rows.is_empty())
            .map(|(title, words, rows)| Advantages {
                title,
                words,
                chart: chart::rates(tr!("Games won, with the 95 % interval"), &rates(rows)),
                rows,
            })
            .collect()
    }
}

fn rates(rows: &[Row]) -> Vec<Point> {
    rows.iter()
        .map(|r| rate(&text::figures_in(r.words), r.won))
        .collect()
}

fn rate(words: &str, of: Rate) -> Point {
    let i = of.wilson();
    Point {
        label: words.to_owned(),
        value: of.share(),
        bounds: Some((i.low, i.high)),
    }
}

/// Trials from which on a kind of move has a row, and the most rows.
const SHOWN_MIN: u64 = 10;
const SHOWN_MAX: usize = 12;

/// The page.
///
/// # Errors
/// The template fails; ours does not.
pub fn progress_html(report: &Report) -> Result<String, askama::Error> {
    let spots = || report.spots.iter();
    let kinds_of_moves: Vec<&Spot> = spots()
        .filter(|s| s.state != State::Difficulty && s.missed.of >= SHOWN_MIN)
        .take(SHOWN_MAX)
        .collect();
    let missed: Vec<Point> = kinds_of_moves
        .iter()
        .map(|s| rate(&crate::text::fit(s.words, LABEL), s.missed))
        .collect();
    let skipped = report.weeks.len().saturating_sub(progress_results::WEEKS);
    let late: Vec<&Week> = report.weeks.iter().skip(skipped).collect();
    let bins = &report.judgement.diagram;
    let bins: Vec<_> = bins.iter().map(|b| (b.stated, b.came, b.count)).collect();
    let html = Html {
        report,
        experiment: report
            .experiment
            .as_ref()
            .map(experiment_parts)
            .transpose()?
            .unwrap_or_default(),
        quick: quick_parts(&report.quick, 3)?,
        found: spots().filter(|s| s.state == State::Found).collect(),
        missed: chart::rates(tr!("Missed, by kind of move"), &missed),
        kinds_of_moves,
        weeks: chart::line(
            tr!("Share of the needed depth that held, week by week"),
            &points(&late),
        ),
        late,
        diagram: chart::agreement(
            tr!("What you said (across) against what it was (up)"),
            &bins,
        ),
    };
    sheet(tr!("progress"), &html)
}

/// Characters that fit beside a bar.
const LABEL: usize = 36;

fn points(weeks: &[&Week]) -> Vec<Point> {
    let point = |w: &&Week| Point {
        label: text::day_and_month(w.from),
        value: w.sound_share,
        bounds: w.interval.map(|i| (i.low, i.high)),
    };
    weeks.iter().map(point).collect()
}

/// Numbers and words of the template.
impl Html<'_> {
    fn percent(&self, share: &f64) -> String {
        format!("{:.0}", share * 100.0)
    }

    fn points(&self, share: &f64) -> String {
        format!("{:+.0}", share * 100.0)
    }

    fn wilson(&self, of: &Rate) -> String {
        let i = of.wilson();
        format!("{}-{} %", self.percent(&i.low), self.percent(&i.high))
    }

    fn range(&self, of: &Option<Interval>) -> String {
        of.map_or_else(String::new, |i| {
            tr!("{} to {}", self.points(&i.low), self.points(&i.high))
        })
    }

    fn time(&self, ms: &Option<u64>) -> String {
        ms.map_or_else(String::new, crate::text::clock)
    }

    fn part(&self, share: &Option<f64>) -> String {
        share.map_or_else(String::new, |s| format!("{} %", self.percent(&s)))
    }

    fn one(&self, value: &f64) -> String {
        text::decimal(*value, 1)
    }

    fn others(&self, spot: &Spot) -> String {
        spot.others
            .map_or_else(String::new, |o| tr!("{} of {}", o.part, o.of))
    }

    fn state(&self, spot: &Spot) -> &'static str {
        match spot.state {
            State::Found => tr!("blind spot"),
            State::NoWeakness => tr!("no weakness"),
            State::NotEnoughYet => tr!("not enough yet"),
            State::Difficulty => tr!("difficulty, no weakness by itself"),
        }
    }
}
