//! The opponent of the next round: facts with counts, as text, JSON and a page.

use askama::Template;

use super::paragraph;
use super::published::{Published, document_json};
use super::sheet::sheet;
use crate::games::opponent::{FirstMoves, OpponentFacts};
use crate::text::{clock, day, list, safe};

/// The facts as text.
#[must_use]
pub fn opponent_text(of: &OpponentFacts) -> String {
    let heading = heading(of);
    let line = "-".repeat(78.min(heading.chars().count()));
    let mut out = format!("{}{line}\n", paragraph(&heading, ""));
    for fact in opponent_facts(of) {
        out.push_str(&paragraph(&fact, ""));
    }
    out
}

/// His name, his games by colour, and their dates.
pub(super) fn heading(of: &OpponentFacts) -> String {
    let dates = match (of.from.as_str(), of.to.as_str()) {
        (from, to) if from == to => day(from),
        (from, to) => tr!("{} to {}", day(from), day(to)),
    };
    safe(&tr!(
        "{}: {} with White, {} with Black, {dates}",
        of.name,
        tr!(of.white; "{} game" | "{} games", crate::text::whole(of.white)),
        of.black
    ))
    .into_owned()
}

/// The facts, a sentence each.
#[must_use]
pub fn opponent_facts(of: &OpponentFacts) -> Vec<String> {
    let [won, drawn, lost] = of.results;
    let mut facts = vec![tr!("Won {won}, drawn {drawn}, lost {lost}.")];
    facts.extend(of.firsts.iter().map(first));
    if of.draws > 0 {
        let moves = of.draw_moves.unwrap_or_default();
        facts.push(tr!(
            "His draws lasted {moves:.0} moves on average; {} of {} ended before move 30.",
            of.short_draws,
            of.draws
        ));
    }
    facts.push(match of.offered {
        0 => tr!("He never had an even exchange of pieces to take.").to_owned(),
        n => tr!(
            "An even exchange of pieces was his to take at {}; he took it {}.",
            tr!(n; "{} turn" | "{} turns", crate::text::whole(n)),
            times(of.taken)
        ),
    });
    facts.push(tr!(
        "The queens were off before move 25 in {} of {}.",
        of.queens_off,
        tr!(of.white + of.black; "{} game" | "{} games", crate::text::whole(of.white + of.black))
    ));
    if of.timed == 0 {
        facts.push(tr!("No clock times in his games.").to_owned());
        return facts;
    }
    for used in &of.used {
        facts.push(tr!(
            "Before move {} he had used {} on average ({}).",
            used.before_move,
            clock((used.seconds * 1000.0) as u64),
            tr!(used.games; "{} game" | "{} games", crate::text::whole(used.games))
        ));
    }
    facts.push(tr!(
        "He was in time trouble in {} of {} with times.",
        of.trouble,
        tr!(of.timed; "{} game" | "{} games", crate::text::whole(of.timed))
    ));
    facts
}

fn times(n: usize) -> String {
    match n {
        0 => tr!("never").to_owned(),
        1 => tr!("once").to_owned(),
        2 => tr!("twice").to_owned(),
        n => tr!("{n} times"),
    }
}

fn first(of: &FirstMoves) -> String {
    let dots = if of.against.is_some() { "1..." } else { "1." };
    let moves: Vec<String> = of
        .moves
        .iter()
        .map(|(m, n)| format!("{dots}{m} {}", times(*n)))
        .collect();
    match &of.against {
        None => tr!("With White: {}.", list(&moves)),
        Some(mv) => tr!("Against 1.{mv}: {}.", list(&moves)),
    }
}

/// What the games of an opponent say (`foreply games opponent --format json`).
#[derive(serde::Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    facts: &'a OpponentFacts,
    told: Vec<String>,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-opponent";
}

/// The same, format `foreply-opponent`, version 1.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn opponent_json(of: &OpponentFacts) -> Result<String, serde_json::Error> {
    let told = opponent_facts(of);
    document_json(&Document { facts: of, told })
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r#"<h1>{{ tr!("The opponent") }}</h1>
<p>{{ heading }}</p>
<ul>{% for fact in facts %}<li>{{ fact }}</li>
{% endfor %}</ul>
<p class="quiet">{{ tr!("Only counts, no advice; no engine was asked.") }}</p>
"#
)]
struct Html {
    heading: String,
    facts: Vec<String>,
}

/// The page.
///
/// # Errors
/// The template fails; ours does not.
pub fn opponent_html(of: &OpponentFacts) -> Result<String, askama::Error> {
    let html = Html {
        heading: heading(of),
        facts: opponent_facts(of),
    };
    sheet(tr!("the opponent"), &html)
}
