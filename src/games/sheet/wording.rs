//! What is said about a sheet that does not fit, in the words of its writer.

use shakmaty::{Chess, Color, Move, Position};

use super::{Entry, Repair, Sheet, Slip, place};
use crate::board::line::san;
use crate::board::{Line, Rule};

/// `White's 12th`.
fn whose(start: &Chess, ply: usize) -> String {
    let (side, number) = place(start, ply);
    let side = match side {
        Color::White => tr!("White's"),
        Color::Black => tr!("Black's"),
    };
    format!("{side} {}", ordinal(number))
}

fn ordinal(n: u32) -> String {
    let end = match (n % 10, n % 100) {
        (1, tens) if tens != 11 => "st",
        (2, tens) if tens != 12 => "nd",
        (3, tens) if tens != 13 => "rd",
        _ => "th",
    };
    format!("{n}{end}")
}

/// `12...Nd7`.
fn numbered(start: &Chess, ply: usize, text: &str) -> String {
    match place(start, ply) {
        (Color::White, n) => format!("{n}.{text}"),
        (Color::Black, n) => format!("{n}...{text}"),
    }
}

/// Where the sheet stops to fit, and why.
#[must_use]
pub fn misfit(sheet: &Sheet, moves: &[Move], at: usize) -> String {
    let Some(entry) = sheet.entries.get(at) else {
        return String::new();
    };
    let whose = whose(&sheet.start, moves.len());
    let line = entry.line;
    match &entry.token {
        Err(_) if entry.text == "?" => tr!("line {line}: {whose} cannot be read."),
        Err(e) => tr!(
            "line {line}: {whose}: '{}' is no move: {}.",
            entry.text,
            e.why
        ),
        Ok(_) => tr!(
            "line {line}: {whose}: '{}' is not possible there: from here the sheet does not fit.",
            entry.text
        ),
    }
}

/// An entry that can be meant in several ways.
#[must_use]
pub fn doubt(sheet: &Sheet, moves: &[Move], at: usize, ways: &[Move]) -> String {
    let mut pos = sheet.start.clone();
    for mv in moves.iter().take(at) {
        pos.play_unchecked(mv);
    }
    let text = sheet.entries.get(at).map_or("", |e| e.text.as_str());
    let sans: Vec<String> = ways.iter().map(|mv| san(&pos, mv)).collect();
    tr!(
        "{}: '{text}' is possible as {}; {} was taken.",
        whose(&sheet.start, at),
        crate::text::list(&sans).replace(" and ", " or "),
        sans.first().map_or("", String::as_str)
    )
}

/// A result that the board contradicts.
#[must_use]
pub fn contradiction(sheet: &Sheet, moves: &[Move]) -> Option<String> {
    let mut line = Line::new(sheet.start.clone());
    for mv in moves {
        line.push(mv).ok()?;
    }
    let rule = line.rule()?;
    let right = match rule.winner(line.turn()) {
        Some(shakmaty::Color::White) => "1-0",
        Some(shakmaty::Color::Black) => "0-1",
        None => "1/2-1/2",
    };
    // Positions that have come often, and moves without a capture, end a game only from some number on.
    let ends = matches!(rule, Rule::Checkmate | Rule::Stalemate | Rule::DeadPosition);
    (ends && sheet.result != right).then(|| {
        tr!(
            "The game ends with {}, which is {right}; the sheet says {}. Written to the PGN is what the sheet says.",
            rule.words(),
            if sheet.result == "*" { tr!("no result") } else { sheet.result }
        )
    })
}

/// A repair in a sentence: what was played instead of what is written.
#[must_use]
pub fn repaired(sheet: &Sheet, repair: &Repair) -> String {
    let told: Vec<String> = repair
        .slips
        .iter()
        .map(|slip| told(sheet, repair, slip))
        .collect();
    format!("{}.", told.join("; "))
}

/// All of them. Where two say the same, since a move can be meant in several ways of which the sheet does not decide, the later one also
/// says in what it differs.
#[must_use]
pub fn all_repaired(sheet: &Sheet, repairs: &[Repair]) -> Vec<String> {
    let told: Vec<String> = repairs.iter().map(|r| repaired(sheet, r)).collect();
    let apart = |(at, words): (usize, &String)| {
        let earlier = told.iter().take(at).position(|other| other == words);
        let (Some(earlier), Some(repair)) = (earlier.and_then(|e| repairs.get(e)), repairs.get(at))
        else {
            return words.clone();
        };
        let both = earlier.moves.iter().zip(&repair.moves);
        let Some(ply) = both.into_iter().position(|(a, b)| a != b) else {
            return words.clone();
        };
        let pos = after(&sheet.start, repair, ply);
        let san = repair
            .moves
            .get(ply)
            .map_or_else(String::new, |mv| san(&pos, mv));
        let words = words.trim_end_matches('.');
        tr!("{words}; with {}.", numbered(&sheet.start, ply, &san))
    };
    told.iter().enumerate().map(apart).collect()
}

fn told(sheet: &Sheet, repair: &Repair, slip: &Slip) -> String {
    let start = &sheet.start;
    let text = |at: usize| {
        sheet
            .entries
            .get(at)
            .map_or("", |e: &Entry| e.text.as_str())
    };
    // Half-moves of the game before the entry.
    let before = |at: usize| {
        let first = repair.from.iter().position(|f| f.is_some_and(|f| f >= at));
        first.unwrap_or(repair.moves.len())
    };
    match slip {
        Slip::Another { at, played } => {
            let ply = repair
                .from
                .iter()
                .position(|f| *f == Some(*at))
                .unwrap_or(0);
            let pos = after(start, repair, ply);
            tr!(
                "{} was {}, not '{}'",
                whose(start, ply),
                numbered(start, ply, &san(&pos, played)),
                text(*at)
            )
        }
        Slip::Missing { at, played } => {
            let ply = before(*at).saturating_sub(played.len());
            let mut pos = after(start, repair, ply);
            let mut sans = Vec::new();
            for mv in played {
                sans.push(san(&pos, mv));
                pos.play_unchecked(mv);
            }
            let moves = match (place(start, ply), &sans[..]) {
                ((Color::White, n), [one, two]) => format!("{n}.{one} {two}"),
                ((Color::Black, n), [one, two]) => format!("{n}...{one} {}.{two}", n + 1),
                (_, sans) => numbered(start, ply, &sans.concat()),
            };
            tr!("{moves} is not on the sheet, before '{}'", text(*at))
        }
        Slip::TooMany { at, entries } => {
            let words: Vec<&str> = (*at..at + entries).map(text).collect();
            tr!(
                "'{}' in line {} was not played",
                words.join(" "),
                sheet.entries.get(*at).map_or(0, |e| e.line)
            )
        }
        Slip::Swapped { at } => {
            let ply = repair
                .from
                .iter()
                .position(|f| *f == Some(at + 2))
                .unwrap_or(0);
            tr!(
                "{} was '{}' and the next own move '{}': they are written in the other order",
                whose(start, ply),
                text(at + 2),
                text(*at)
            )
        }
    }
}

fn after(start: &Chess, repair: &Repair, ply: usize) -> Chess {
    let mut pos = start.clone();
    for mv in repair.moves.iter().take(ply) {
        pos.play_unchecked(mv);
    }
    pos
}
