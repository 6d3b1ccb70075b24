//! What a player cannot see on a board, in words: rights, material, the move before, the clock.

use std::path::Path;

use jiff::{Timestamp, tz::TimeZone};
use shakmaty::{ByRole, CastlingSide, Chess, Color, EnPassantMode, Position, Rank};

use crate::app::App;
use crate::attempt::Origin;
use crate::board::{Line, line};
use crate::drill::Drill;
use crate::games::OWN;
use crate::notation::{MEN, piece_name};
use crate::text;

/// What is said when a sitting is left.
pub const KEPT: &str = "The sitting is kept: go on with it any time.";

/// What is said when an attempt was written to a file for the coach.
#[must_use]
pub fn for_coach(file: &Path) -> String {
    format!(
        "Written without its review to {}; what comes back: foreply coach take FILE",
        text::safe(&file.display().to_string())
    )
}

/// `White` or `Black`.
#[must_use]
pub fn side(color: Color) -> &'static str {
    match color {
        Color::White => "White",
        Color::Black => "Black",
    }
}

/// Everything about the root that the board does not show, one sentence each.
#[must_use]
pub fn facts(root: &Line) -> Vec<String> {
    let position = root.root();
    let mut facts = vec![format!(
        "{} to move, move {}.",
        side(position.turn()),
        position.fullmoves()
    )];
    facts.extend(last_move(root));
    facts.push(castling(position));
    facts
}

/// The move before the root, where it is known; a double step also without its game, since it
/// decides about en passant.
fn last_move(root: &Line) -> Option<String> {
    let mover = side(root.player().other());
    if let Some(san) = line::sans(root.start(), root.past()).pop() {
        return Some(format!("{mover} has just played {san}."));
    }
    let target = root.root().ep_square(EnPassantMode::Always)?;
    let (from, to) = if target.rank() == Rank::Third {
        (Rank::Second, Rank::Fourth)
    } else {
        (Rank::Seventh, Rank::Fifth)
    };
    let file = target.file().char();
    Some(format!(
        "{mover} has just played {file}{}-{file}{}; en passant is on.",
        from.char(),
        to.char()
    ))
}

fn castling(position: &Chess) -> String {
    let rights = |color| {
        let has = |s| position.castles().has(color, s);
        match (has(CastlingSide::KingSide), has(CastlingSide::QueenSide)) {
            (true, true) => Some(format!("{} may castle on both sides", side(color))),
            (true, false) => Some(format!("{} may castle kingside", side(color))),
            (false, true) => Some(format!("{} may castle queenside", side(color))),
            (false, false) => None,
        }
    };
    let all: Vec<String> = [Color::White, Color::Black]
        .into_iter()
        .filter_map(rights)
        .collect();
    if all.is_empty() {
        return "No castling rights are left.".to_owned();
    }
    format!("{}.", all.join("; "))
}

/// The men of one side: `king, queen, 2 rooks, 5 pawns`.
#[must_use]
pub fn material(position: &Chess, color: Color) -> String {
    let men: ByRole<u8> = *position.board().material().get(color);
    let words: Vec<String> = MEN
        .into_iter()
        .map(|role| (men.get(role), piece_name(role)))
        .filter_map(|(n, word)| match n {
            0 => None,
            1 => Some(word.to_owned()),
            n => Some(format!("{n} {word}s")),
        })
        .collect();
    format!("{}: {}", side(color), words.join(", "))
}

/// What a position is called before it is solved: a number, never a name.
#[must_use]
pub fn origin(app: &App, origin: &Origin) -> String {
    match origin {
        Origin::Drill(id) => match app.drills().find(id) {
            Ok((number, _)) if id.starts_with(OWN) => format!("Own game {number}"),
            Ok((number, _)) => format!("Position {number}"),
            Err(_) if id.starts_with(OWN) => "A position of an own game".to_owned(),
            Err(_) => "A position no longer in the collection".to_owned(),
        },
        Origin::Position => "Own position".to_owned(),
        Origin::Playout { ply, .. } => {
            format!("Played out, after {}", text::number(*ply) + " half-moves")
        }
        Origin::Notes(words) => words.clone(),
    }
}

/// A drill before it is solved: its number, whose move it is, its minutes.
#[must_use]
pub fn drill(app: &App, drill: &Drill) -> String {
    let label = origin(app, &Origin::Drill(drill.id.clone()));
    let turn = side(drill.root.player());
    format!("{label:<13} {turn} to move  {:>3} min", drill.minutes)
}

/// `2026-11-25`.
#[must_use]
pub fn date(wall_ms: i64, zone: &TimeZone) -> String {
    Timestamp::from_millisecond(wall_ms).map_or_else(
        |_| "no date".to_owned(),
        |t| t.to_zoned_datetime(zone.clone()).date().to_string(),
    )
}

/// The clock of a sitting: time left, time over, or time used where there is no limit.
#[must_use]
pub fn clock(left_ms: Option<i64>, used_ms: u64) -> String {
    match left_ms {
        // A clock that counts down shows the second that is running.
        Some(left @ 0..) => text::clock(left.unsigned_abs().div_ceil(1000) * 1000),
        Some(over) => format!("+{} over", text::clock(over.unsigned_abs())),
        None => text::clock(used_ms),
    }
}

/// How long a note about the time stays, in milliseconds.
const NOTE_MS: i64 = 30_000;

/// One quiet line at half of the time, and at two minutes left.
#[must_use]
pub fn time_note(left_ms: Option<i64>, budget_ms: Option<u64>) -> Option<&'static str> {
    let (left, budget) = (left_ms?, i64::try_from(budget_ms?).ok()?);
    let within = |mark: i64| (mark - NOTE_MS..=mark).contains(&left);
    if left < 0 {
        Some("Your time is over. What you write still counts.")
    } else if within(120_000) && budget > 120_000 {
        Some("Two minutes are left.")
    } else if within(budget / 2) {
        Some("Half of your time is used.")
    } else {
        None
    }
}

/// What is said when a cause was taken off his list.
#[must_use]
pub fn off_the_list(cause: &str) -> String {
    format!("'{cause}' is off your list; what you explained with it keeps it.")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(fen: &str) -> Line {
        Line::new(line::read_fen(fen).unwrap())
    }

    #[test]
    fn rights_and_the_double_step_are_told_in_words() {
        let root = line("r3k2r/8/8/3pP3/8/8/8/R3K2R w KQq d6 0 20");
        let facts = facts(&root);
        assert_eq!(
            facts,
            [
                "White to move, move 20.",
                "Black has just played d7-d5; en passant is on.",
                "White may castle on both sides; Black may castle queenside.",
            ]
        );
    }

    #[test]
    fn material_is_counted() {
        let root = line("8/8/1KP5/3r4/8/8/8/k7 w - - 0 1");
        assert_eq!(material(root.root(), Color::White), "White: king, pawn");
        assert_eq!(material(root.root(), Color::Black), "Black: king, rook");
        let start = Line::new(Chess::default());
        assert_eq!(
            material(start.root(), Color::Black),
            "Black: king, queen, 2 rooks, 2 bishops, 2 knights, 8 pawns"
        );
    }

    #[test]
    fn the_clock_speaks_at_half_and_at_two_minutes_only() {
        let at = |left: i64| time_note(Some(left * 1000), Some(480_000));
        assert_eq!(at(300), None);
        assert_eq!(at(240), Some("Half of your time is used."));
        assert_eq!(at(200), None);
        assert_eq!(at(120), Some("Two minutes are left."));
        assert_eq!(at(80), None);
        assert_eq!(
            at(-1),
            Some("Your time is over. What you write still counts.")
        );
        assert_eq!(time_note(None, None), None);
    }

    #[test]
    fn the_clock_counts_down_and_over() {
        assert_eq!(clock(Some(480_000), 0), "8:00");
        assert_eq!(clock(Some(479_999), 1), "8:00");
        assert_eq!(clock(Some(479_000), 1000), "7:59");
        assert_eq!(clock(Some(-13_000), 0), "+0:13 over");
        assert_eq!(clock(None, 61_000), "1:01");
    }
}
