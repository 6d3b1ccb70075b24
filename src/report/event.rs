//! The account of an event: as text, JSON and a page.

use std::fmt::Write;

use askama::Template;
use serde::Serialize;

use super::games::By;
use super::paragraph;
use super::published::{Published, document_json};
use super::sheet::sheet;
use crate::games::event::GameEvent;
use crate::games::event::account::{EventAccount, GAMES_MIN, RoundTold};
use crate::games::event::countable::Count;
use crate::games::event::takeaway::Takeaway;
use crate::progress::resolution::Resolution;
use crate::progress::stats::Rate;
use crate::review::standing;
use crate::score::PlayerScore;
use crate::text::{self, capital, day, decimal, fit, plain, safe};

/// An event with all that is told of it.
#[derive(Clone, Copy)]
pub struct EventTold<'a> {
    pub event: &'a GameEvent,
    pub account: &'a EventAccount,
    pub resolutions: &'a [Resolution],
    /// Of which event those are.
    pub earlier: Option<&'a str>,
    pub takeaways: &'a [Takeaway],
    /// Games that are left out because they may not be judged yet.
    pub held_back: &'a [String],
    pub by: By<'a>,
}

/// The events as a list.
#[must_use]
pub fn events_list(events: &[GameEvent]) -> String {
    let mut out = String::new();
    for event in events {
        let _ = writeln!(
            out,
            "{}",
            tr!(
                "{}  {} to {}  {}",
                fit(&safe(&event.id), 44),
                day(&event.from),
                day(&event.to),
                tr!(event.games.len(); "{} game" | "{} games", text::whole(event.games.len()))
            )
        );
    }
    out
}

/// The account as text.
#[must_use]
pub fn event_text(of: &EventTold<'_>) -> String {
    let heading = heading(of);
    let mut out = format!(
        "{}{}\n",
        paragraph(&heading, ""),
        "-".repeat(78.min(heading.chars().count()))
    );
    for line in resolution_words(of) {
        out.push_str(&paragraph(&line, ""));
    }
    for odd in odd(of) {
        out.push_str(&paragraph(&odd, ""));
    }
    out.push_str(tr!(
        "\n    you   opponent        rtg. pts  best, move      became\n"
    ));
    for round in &of.account.rounds {
        out.push_str(&row(round));
    }
    let _ = writeln!(out, "{}", tr!("\nWhat runs through"));
    for line in runs_through(of.account) {
        out.push_str(&paragraph(&line, "  "));
    }
    let _ = writeln!(out, "{}", tr!("\nWhat you take away"));
    for line in takeaways(of) {
        out.push_str(&paragraph(&line, "  "));
    }
    let _ = write!(out, "\n{}", paragraph(&foot(of.by), ""));
    out
}

fn heading(of: &EventTold<'_>) -> String {
    let event = of.event;
    let finished =
        tr!(of.account.finished; "{} game" | "{} games", text::whole(of.account.finished));
    safe(&tr!(
        "{}, {} to {}: {} points of {finished}",
        event.name,
        day(&event.from),
        day(&event.to),
        plain(of.account.points)
    ))
    .into_owned()
}

/// The resolutions of the event before, first of all.
fn resolution_words(of: &EventTold<'_>) -> Vec<String> {
    let Some(earlier) = of.earlier else {
        return Vec::new();
    };
    let first = tr!("What you took away from {}:", safe(earlier));
    let each = of.resolutions.iter().map(|r| {
        let sentence = r.sentence();
        format!("'{}' - {}", safe(&r.words), text::figures_in(&sentence))
    });
    std::iter::once(first).chain(each).collect()
}

fn odd(of: &EventTold<'_>) -> Vec<String> {
    let mut odd = of.event.odd.clone();
    for round in &of.account.rounds {
        let which = match round.round {
            Some(n) => tr!("Round {n}"),
            None => tr!("Against {}", safe(&round.opponent)),
        };
        odd.extend(
            round
                .odd
                .iter()
                .map(|o| format!("{which}: {}", o.sentence())),
        );
    }
    let held = of.held_back.iter();
    odd.extend(held.map(|g| {
        tr!(
            "{}: left out, since it may be going on or your own thoughts on it are not locked.",
            safe(g)
        )
    }));
    odd
}

fn points(points: Option<f64>) -> &'static str {
    match points {
        Some(p) if p >= 1.0 => "1",
        Some(p) if p > 0.0 => "1/2",
        Some(_) => "0",
        None => "-",
    }
}

fn row(of: &RoundTold) -> String {
    let rating = of.rating.map_or_else(|| "-".to_owned(), |r| r.to_string());
    let chance = format!("{}, {}", best(of.peak), of.peak_move);
    let mut line = format!(
        "{:>3} {:<5} {} {rating:>4} {:>3}  {}  {}",
        of.round.map_or_else(|| "-".to_owned(), |r| r.to_string()),
        if of.white { tr!("White") } else { tr!("Black") },
        fit(&safe(&of.opponent), 15),
        points(of.points),
        fit(&chance, 14),
        of.became.words()
    );
    let more = more(of);
    if !more.is_empty() {
        let _ = write!(line, "\n          {}", more.join("; "));
    }
    line + "\n"
}

/// The best that he stood, in a word or two.
fn best(peak: f64) -> &'static str {
    match peak {
        p if p >= 0.85 => tr!("winning"),
        p if p >= 0.70 => tr!("clear"),
        p if p >= 0.55 => tr!("slight"),
        _ => tr!("level"),
    }
}

/// Time trouble and turning points of a round.
fn more(of: &RoundTold) -> Vec<String> {
    let short = of.trouble_from.map(|n| tr!("short of time from move {n}"));
    let named = of
        .recognised
        .map(|c| tr!("turning points named: {} of {}", c.part, c.of));
    short.into_iter().chain(named).collect()
}

/// '2 of 5 (12-77 %)', with how little that may be.
fn share(count: Count) -> String {
    let i = Rate::new(count.part, count.of).wilson();
    let few = if count.of < GAMES_MIN {
        tr!("; too few to say")
    } else {
        ""
    };
    tr!(
        "{} of {} (95 %: {:.0}-{:.0} %{few})",
        text::whole(count.part),
        text::whole(count.of),
        100.0 * i.low,
        100.0 * i.high
    )
}

/// What runs through the event, and what is too little to say so.
fn runs_through(of: &EventAccount) -> Vec<String> {
    let games = of.rounds.len();
    let mut lines = Vec::new();
    let through: Vec<_> = of.oversights.iter().filter(|o| o.runs_through).collect();
    for oversight in &through {
        lines.push(tr!(
            "{}: {}, in {} of {}.",
            capital(oversight.words),
            tr!(oversight.moments; "{} time" | "{} times", text::whole(oversight.moments)),
            oversight.games,
            tr!(games; "{} game" | "{} games", text::whole(games))
        ));
    }
    if through.is_empty() {
        lines.push(tr!("No kind of oversight comes in half of the games and in three at least: too few to say.").to_owned());
    }
    let rest = of.oversights.iter().filter(|o| !o.runs_through);
    let rest: Vec<String> = rest.map(|o| format!("{} {}", o.words, o.moments)).collect();
    if !rest.is_empty() {
        lines.push(tr!("Besides: {}.", rest.join(", ")));
    }
    if of.converted.of > 0 {
        lines.push(tr!(
            "Games in which you stood at {} or more, won: {}.",
            text::share(0.85, 2),
            share(of.converted)
        ));
    } else {
        lines.push(tr!(
            "In no game with a result did you stand at {} or more.",
            text::share(0.85, 2)
        ));
    }
    if of.trouble.of == 0 {
        lines.push(tr!("No clock times: nothing can be said about time.").to_owned());
    } else {
        let mut line = tr!("Games in time trouble: {}", share(of.trouble));
        if let (Some(inside), Some(outside)) = (of.lost_in_trouble, of.lost_elsewhere) {
            let _ = write!(
                line,
                "{}",
                tr!(
                    "; given away a move: {} there, {} elsewhere",
                    decimal(inside, 3),
                    decimal(outside, 3)
                )
            );
        }
        lines.push(line + ".");
    }
    if of.early.of > 0 {
        let mean = of.early_mean.map_or_else(String::new, |m| {
            tr!("; on average {}", standing(PlayerScore::new(m)))
        });
        lines.push(tr!(
            "Games in which you stood worse before the 21st move: {}{mean}.",
            share(of.early)
        ));
    }
    if of.recognised.of > 0 {
        lines.push(tr!(
            "Turning points that you named before the judge spoke: {}.",
            share(of.recognised)
        ));
    }
    lines
}

fn takeaways(of: &EventTold<'_>) -> Vec<String> {
    if of.takeaways.is_empty() {
        return vec![
            tr!("Nothing yet. In your own words, at most three: --takeaway WORDS, tied to something that is counted with --tie.")
                .to_owned(),
        ];
    }
    let numbered = of.takeaways.iter().enumerate();
    numbered
        .map(|(i, t)| {
            let tied = t.tied.map_or_else(String::new, |c| {
                tr!(" Counted: {}.", text::figures_in(&c.words()))
            });
            format!("{}. '{}'{tied}", i + 1, safe(&t.words))
        })
        .collect()
}

fn foot(by: By<'_>) -> String {
    tr!(
        "Judged by {}, {} nodes for each position. A coach's judgement outranks an engine's number.",
        safe(by.engine),
        text::whole(by.nodes)
    )
}

/// The account of an event (`foreply games event --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    event: &'a str,
    name: &'a str,
    from: &'a str,
    to: &'a str,
    judge: By<'a>,
    odd: Vec<String>,
    earlier: Option<&'a str>,
    resolutions: &'a [Resolution],
    account: &'a EventAccount,
    told: Vec<String>,
    takeaways: &'a [Takeaway],
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-event";
}

/// The same, format `foreply-event`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn event_json(of: &EventTold<'_>) -> Result<String, serde_json::Error> {
    let document = Document {
        event: &of.event.id,
        name: &of.event.name,
        from: &of.event.from,
        to: &of.event.to,
        judge: of.by,
        odd: odd(of),
        earlier: of.earlier,
        resolutions: of.resolutions,
        account: of.account,
        told: runs_through(of.account),
        takeaways: of.takeaways,
    };
    document_json(&document)
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("The event") }}</h1>
<p>{{ heading }}</p>
{% for line in resolutions %}<p>{{ line }}</p>
{% endfor %}
{% for line in odd %}<p class="quiet">{{ line }}</p>
{% endfor %}
<h2>{{ tr!("Round by round") }}</h2>
<div class="wide"><table>
<tr><th class="n">{{ tr!("round") }}</th><th>{{ tr!("you") }}</th><th>{{ tr!("opponent") }}</th><th class="n">{{ tr!("rating") }}</th><th class="n">{{ tr!("points") }}</th><th>{{ tr!("best chance") }}</th><th>{{ tr!("became") }}</th></tr>
{% for r in rows %}<tr><td class="n">{{ r.round }}</td><td>{{ r.colour }}</td><td>{{ r.opponent }}</td><td class="n">{{ r.rating }}</td><td class="n">{{ r.points }}</td><td>{{ r.best }}</td><td>{{ r.became }}{% if !r.more.is_empty() %}<br><span class="quiet">{{ r.more }}</span>{% endif %}</td></tr>
{% endfor %}</table></div>
<h2>{{ tr!("What runs through") }}</h2>
<ul>{% for line in through %}<li>{{ line }}</li>
{% endfor %}</ul>
<h2>{{ tr!("What you take away") }}</h2>
<ul>{% for line in takeaways %}<li>{{ line }}</li>
{% endfor %}</ul>
<p class="quiet">{{ foot }}</p>
"#
)]
struct Html {
    heading: String,
    resolutions: Vec<String>,
    odd: Vec<String>,
    rows: Vec<Row>,
    through: Vec<String>,
    takeaways: Vec<String>,
    foot: String,
}

struct Row {
    round: String,
    colour: &'static str,
    opponent: String,
    rating: String,
    points: &'static str,
    best: String,
    became: &'static str,
    more: String,
}

/// The page.
///
/// # Errors
/// The template fails; ours does not.
pub fn event_html(of: &EventTold<'_>) -> Result<String, askama::Error> {
    let rows = of.account.rounds.iter().map(|r| Row {
        round: r.round.map_or_else(String::new, |n| n.to_string()),
        colour: if r.white { tr!("White") } else { tr!("Black") },
        opponent: safe(&r.opponent).into_owned(),
        rating: r.rating.map_or_else(String::new, |n| n.to_string()),
        points: points(r.points),
        best: tr!("{}, move {}", best(r.peak), r.peak_move),
        became: r.became.words(),
        more: more(r).join("; "),
    });
    let html = Html {
        heading: heading(of),
        resolutions: resolution_words(of),
        odd: odd(of),
        rows: rows.collect(),
        through: runs_through(of.account),
        takeaways: takeaways(of),
        foot: foot(of.by),
    };
    sheet(tr!("the event"), &html)
}
