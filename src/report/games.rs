//! Own games as text for the player and as JSON for programs.

use std::collections::BTreeMap;
use std::fmt::Write;

use serde::Serialize;

use super::paragraph;
use super::published::{Published, document_json};
use crate::games::moment::{Moment, Reason};
use crate::games::survey::Surveyed;
use crate::games::wording::{in_the_game, sentence};
use crate::text::{dates_in, number, safe, whole};

/// The judge by name and its nodes for each position.
#[derive(Debug, Clone, Copy, Serialize, schemars::JsonSchema)]
pub struct By<'a> {
    pub engine: &'a str,
    pub nodes: u64,
}

/// The chosen moments; with `tell` each with its move and its reason, which gives it away.
#[must_use]
pub fn moments(games: &[Surveyed], chosen: &[Moment], by: By<'_>, tell: bool) -> String {
    let mut out = summary(games, chosen);
    for (at, surveyed) in games.iter().enumerate().filter(|_| tell) {
        let of_game: Vec<&Moment> = chosen.iter().filter(|m| m.game == at).collect();
        if !of_game.is_empty() {
            let _ = write!(out, "\n{}\n", safe(&dates_in(&surveyed.game.heading())));
        }
        for moment in of_game {
            out.push_str(&told(surveyed, moment));
        }
    }
    let _ = write!(
        out,
        "\n{}",
        paragraph(
            &tr!(
                "Judged by {}, {} nodes for each position, four times as many for what was chosen.",
                by.engine,
                whole(by.nodes)
            ),
            ""
        )
    );
    out
}

/// How many of what, without a word about where.
fn summary(games: &[Surveyed], chosen: &[Moment]) -> String {
    let positions: usize = games.iter().map(|g| g.plies.len()).sum();
    let controls = chosen
        .iter()
        .filter(|m| m.reasons == [Reason::Control])
        .count();
    let worth = match chosen.len() {
        0 => tr!("No position is worth a sitting.").to_owned(),
        n => {
            tr!(n; "One position is worth a sitting." | "{} positions are worth a sitting.", whole(n))
        }
    };
    let control = match controls {
        0 => String::new(),
        n => {
            tr!(n; " In one of them you thought well." | " In {} of them you thought well.", number(n))
        }
    };
    let mut out = paragraph(
        &tr!(
            "{}, {} judged. {worth}{control}",
            tr!(games.len(); "{} game" | "{} games", crate::text::whole(games.len())),
            tr!(positions; "{} position" | "{} positions", crate::text::whole(positions))
        ),
        "",
    );
    let mut counts: BTreeMap<Reason, usize> = BTreeMap::new();
    for reason in chosen.iter().filter_map(|m| m.reasons.first()) {
        *counts.entry(*reason).or_default() += 1;
    }
    counts.remove(&Reason::Control);
    for (reason, count) in counts {
        let _ = writeln!(out, "{count:>5}  {}", reason.words());
    }
    out
}

fn told(surveyed: &Surveyed, moment: &Moment) -> String {
    let at = surveyed.game.numbered(moment.ply);
    let reasons: Vec<&str> = moment.reasons.iter().map(|r| r.words()).collect();
    let text = format!(
        "{}. {} {}",
        reasons.join(", "),
        in_the_game(moment, &at),
        sentence(moment, &at)
    );
    paragraph(&text, &format!("{:>7} ", at.trim_end_matches('.')))
}

/// The positions of his own games that are worth a sitting (`foreply games moments --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    judge: By<'a>,
    moments: Vec<Entry<'a>>,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-moments";
}

#[derive(Serialize, schemars::JsonSchema)]
struct Entry<'a> {
    game: &'a str,
    heading: String,
    ply: usize,
    number: String,
    fen: String,
    reasons: &'a [Reason],
    value: f64,
    before: f64,
    after: f64,
    needed: usize,
    spent_seconds: Option<f64>,
    best: &'a str,
    played: &'a str,
    reply: Option<&'a str>,
    decided: bool,
    sentence: String,
}

/// The chosen moments.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn moments_json(
    games: &[Surveyed],
    chosen: &[Moment],
    by: By<'_>,
) -> Result<String, serde_json::Error> {
    let document = Document {
        judge: by,
        moments: chosen
            .iter()
            .filter_map(|m| Some(entry(games.get(m.game)?, m)))
            .collect(),
    };
    document_json(&document)
}

fn entry<'a>(surveyed: &'a Surveyed, moment: &'a Moment) -> Entry<'a> {
    let number = surveyed.game.numbered(moment.ply);
    let round = |e: f64| (e * 1000.0).round() / 1000.0;
    Entry {
        game: &surveyed.game.id,
        heading: surveyed.game.heading(),
        ply: moment.ply,
        fen: crate::board::line::fen(surveyed.game.line_to(moment.ply).position()),
        reasons: &moment.reasons,
        value: round(moment.value),
        before: round(moment.before),
        after: round(moment.after),
        needed: moment.needed,
        spent_seconds: moment.spent_ms.map(|ms| ms as f64 / 1000.0),
        best: &moment.best,
        played: &moment.played,
        reply: moment.reply.as_deref(),
        decided: moment.decided,
        sentence: sentence(moment, &number),
        number,
    }
}
