//! A score sheet as it was understood: text for the player, JSON for programs, PGN for everything else.

use std::fmt::Write;

use serde::Serialize;
use shakmaty::{Move, Position};

use super::published::{Published, document_json};
use crate::board::line::{fen, san};
use crate::games::sheet::{Fitted, Repair, Sheet, all_repaired, contradiction, doubt, misfit};
use crate::text::{safe, wrap};

const WIDTH: usize = 80;

/// What is said of it: whether it fits, what is doubtful, and the ways to read it, numbered from 1.
#[must_use]
pub fn sheet_text(sheet: &Sheet, fitted: &Fitted) -> String {
    let mut out = String::new();
    for sentence in sentences(sheet, fitted) {
        for line in wrap(&safe(&sentence), WIDTH) {
            // Writing into a string does not fail.
            let _ = writeln!(out, "{line}");
        }
    }
    for (at, words) in all_repaired(sheet, &fitted.repairs).iter().enumerate() {
        let told = wrap(&safe(words), WIDTH - 5);
        for (n, line) in told.iter().enumerate() {
            let head = if n == 0 {
                format!("{:>3}  ", at + 1)
            } else {
                " ".repeat(5)
            };
            let _ = writeln!(out, "{head}{line}");
        }
    }
    out
}

fn sentences(sheet: &Sheet, fitted: &Fitted) -> Vec<String> {
    let mut said = Vec::new();
    match fitted.misfit {
        None => said.push(tr!("The sheet fits: {}.", full_moves(fitted.moves.len()))),
        Some(at) => {
            said.push(misfit(sheet, &fitted.moves, at));
            said.push(match &fitted.repairs[..] {
                [] => tr!("No reading with one or two slips of the pen makes the rest fit; look at the sheet again.").to_owned(),
                [_] => tr!("One reading makes the rest fit:").to_owned(),
                _ => tr!("What makes the rest fit, the likeliest first:").to_owned(),
            });
        }
    }
    let doubts = fitted.doubtful.iter();
    said.extend(doubts.map(|(at, ways)| doubt(sheet, &fitted.moves, *at, ways)));
    said.extend(contradiction(sheet, &fitted.moves).filter(|_| fitted.misfit.is_none()));
    said
}

/// So many half-moves, counted as moves.
fn full_moves(half_moves: usize) -> String {
    let moves = half_moves.div_ceil(2);
    tr!(moves; "{moves} move" | "{moves} moves")
}

/// As PGN in export format (1994, 8.2), clocks as the supplement of 2001 has them: the game of the sheet, or of one of its
/// repairs.
#[must_use]
pub fn sheet_pgn(sheet: &Sheet, fitted: &Fitted, repair: Option<&Repair>) -> String {
    const ROSTER: [(&str, &str); 6] = [
        ("Event", "?"),
        ("Site", "?"),
        ("Date", "????.??.??"),
        ("Round", "?"),
        ("White", "?"),
        ("Black", "?"),
    ];
    let mut out = String::new();
    let value = |name: &str| {
        sheet
            .tags
            .iter()
            .find(|(n, _)| n == name)
            .map(|(_, v)| v.as_str())
    };
    let mut tag = |name: &str, value: &str| {
        let value = safe(value).replace('\\', "\\\\").replace('"', "\\\"");
        let _ = writeln!(out, "[{name} \"{value}\"]");
    };
    for (name, unknown) in ROSTER {
        tag(name, value(name).unwrap_or(unknown));
    }
    tag("Result", sheet.result);
    for (name, value) in sheet
        .tags
        .iter()
        .filter(|(n, _)| ROSTER.iter().all(|(r, _)| r != n))
    {
        let value = if name == "FEN" {
            fen(&sheet.start)
        } else {
            value.clone()
        };
        tag(name, &value);
    }
    out.push('\n');
    let moves = repair.map_or(&fitted.moves, |r| &r.moves);
    let from = |ply: usize| match repair {
        Some(repair) => repair.from.get(ply).copied().flatten(),
        None => Some(ply),
    };
    let mut words = Vec::new();
    let mut pos = sheet.start.clone();
    let mut numbered = true;
    for (ply, mv) in moves.iter().enumerate() {
        let number = pos.fullmoves();
        match pos.turn().is_white() {
            true => words.push(format!("{number}.")),
            false if numbered => words.push(format!("{number}...")),
            false => {}
        }
        words.push(san(&pos, mv));
        let clock = from(ply).and_then(|at| sheet.entries.get(at)?.clock_ms);
        if let Some(ms) = clock {
            let s = ms / 1000;
            words.push(format!(
                "{{[%clk {}:{:02}:{:02}]}}",
                s / 3600,
                s / 60 % 60,
                s % 60
            ));
        }
        numbered = clock.is_some();
        pos.play_unchecked(mv);
    }
    words.push(sheet.result.to_owned());
    for line in wrap(&words.join(" "), 79) {
        let _ = writeln!(out, "{line}");
    }
    out
}

/// A score sheet typed from paper, and what it takes to make a game of it (`foreply games sheet --format json`).
#[derive(Serialize, schemars::JsonSchema)]
pub(super) struct Document {
    fits: bool,
    /// Sentences as in the text.
    said: Vec<String>,
    /// Line of the text where it stops to fit.
    line: Option<usize>,
    /// The game in SAN, as far as the sheet fits as it stands.
    moves: Vec<String>,
    /// `1-0`, `0-1`, `1/2-1/2` or `*`.
    result: &'static str,
    /// Readings that fit, the likeliest first.
    repairs: Vec<Way>,
}

#[derive(Serialize, schemars::JsonSchema)]
struct Way {
    told: String,
    /// How much it changes what is written; the smaller the likelier.
    cost: f64,
    moves: Vec<String>,
}

impl Published for Document {
    const FORMAT: &'static str = "foreply-sheet";
}

/// As JSON.
///
/// # Errors
/// A value cannot be written as JSON; none of ours is of that kind.
pub fn sheet_json(sheet: &Sheet, fitted: &Fitted) -> Result<String, serde_json::Error> {
    let sans = |moves: &[Move]| crate::board::line::sans(&sheet.start, moves);
    let told = all_repaired(sheet, &fitted.repairs);
    let way = |(told, repair): (String, &Repair)| Way {
        told,
        cost: repair.cost,
        moves: sans(&repair.moves),
    };
    let entry = fitted.misfit.and_then(|at| sheet.entries.get(at));
    let document = Document {
        fits: fitted.misfit.is_none(),
        said: sentences(sheet, fitted),
        line: entry.map(|entry| entry.line),
        moves: sans(&fitted.moves),
        result: sheet.result,
        repairs: told.into_iter().zip(&fitted.repairs).map(way).collect(),
    };
    document_json(&document)
}
