//! Pawn structures and plan cards as text and JSON.

use std::fmt::Write;

use serde::Serialize;
use shakmaty::Color;

use super::published::{Published, document_json};
use super::{board_text, paragraph};
use crate::games::OwnGame;
use crate::games::plan::PlanCard;
use crate::games::structure::{Met, words};
use crate::text::{dates_in, safe};

/// A structure with its card, if it has one.
#[derive(Debug, Clone, Copy)]
pub struct Structure<'a> {
    /// Its number in the list, from 1.
    pub number: usize,
    pub met: &'a Met,
    pub card: Option<&'a PlanCard>,
}

/// The structures as a list.
#[must_use]
pub fn list(structures: &[Structure<'_>]) -> String {
    if structures.is_empty() {
        return paragraph(
            tr!(
                "No pawn structure stood in two of your games long enough; --least 1 lists those of one game."
            ),
            "",
        );
    }
    let mut out = String::new();
    for s in structures {
        let card = match s.card {
            None => tr!("no plan yet").to_owned(),
            Some(card) => tr!(
                "your plan, tried in {}",
                tr!(card.tried.len(); "{} game" | "{} games", crate::text::whole(card.tried.len()))
            ),
        };
        let lead = format!("{:>3}  ", s.number);
        let games =
            tr!(s.met.games.len(); "{} game" | "{} games", crate::text::whole(s.met.games.len()));
        out.push_str(&paragraph(
            &format!("{} ({}): {games}; {card}.", words(&s.met.key), s.met.key),
            &lead,
        ));
    }
    let foot = tr!(
        "`foreply games plan NUMBER` shows one; with --break, --good, --bad, --trade and --other you write on its card."
    );
    let _ = write!(out, "\n{}", paragraph(foot, ""));
    out
}

/// One structure: the board, the words on its card, the games.
#[must_use]
pub fn card(of: Structure<'_>, games: &[OwnGame]) -> String {
    let side = Color::from_white(of.met.white);
    let mut out = paragraph(&format!("{} ({})", words(&of.met.key), of.met.key), "");
    let _ = write!(out, "\n{}\n", board_text(&of.met.example, side));
    let empty = PlanCard::default();
    let card = of.card.unwrap_or(&empty);
    for (name, words) in card.fields() {
        let words = if words.is_empty() { "-" } else { words };
        out.push_str(&paragraph(words, &format!("{name:>20}  ")));
    }
    for remark in &card.coach {
        out.push_str(&paragraph(
            &format!("{}: {}", remark.by, remark.words),
            &format!("{:>20}  ", tr!("coach")),
        ));
    }
    out.push('\n');
    for (number, place) in of.met.games.iter().enumerate() {
        let Some(game) = games.get(*place) else {
            continue;
        };
        let tried = if card.tried.contains(&game.id) {
            tr!(", tried")
        } else {
            ""
        };
        let points = game.points().map_or(tr!("no result").to_owned(), outcome);
        let line = format!("{}: {points}{tried}", dates_in(&game.heading()));
        out.push_str(&paragraph(&safe(&line), &format!("{:>3}  ", number + 1)));
    }
    out
}

pub(super) fn outcome(points: f64) -> String {
    match points {
        1.0 => tr!("won").to_owned(),
        0.0 => tr!("lost").to_owned(),
        _ => tr!("drawn").to_owned(),
    }
}

/// The pawn structures that he keeps meeting, with his plan for each (`foreply games plan --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document<'a> {
    structures: Vec<Entry<'a>>,
}

impl Published for Document<'_> {
    const FORMAT: &'static str = "foreply-plans";
}

#[derive(Serialize, schemars::JsonSchema)]
struct Entry<'a> {
    number: usize,
    key: String,
    example: String,
    games: Vec<&'a str>,
    card: Option<PlanCard>,
}

/// The same.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn plans_json(
    structures: &[Structure<'_>],
    games: &[OwnGame],
) -> Result<String, serde_json::Error> {
    let id = |place: &usize| games.get(*place).map(|g| g.id.as_str());
    let entry = |s: &Structure<'_>| Entry {
        number: s.number,
        key: s.met.key.clone(),
        example: crate::board::line::fen(&s.met.example),
        games: s.met.games.iter().filter_map(id).collect(),
        card: s.card.cloned(),
    };
    let structures = structures.iter().map(entry).collect();
    let document = Document { structures };
    document_json(&document)
}
