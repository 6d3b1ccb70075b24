//! Whether a game may be judged.

use super::kept::result;
use crate::board::Line;
use crate::tree::pgn::Game;

/// True where the game may still be going on: it has no result, and its date is today (`2026.02.14`) or
/// later. Of a game without a date nobody can tell; a file of old games has many, so it counts as over.
/// A game that begins from a position of its own is a written tree, not a game that is played.
/// FIDE Laws of Chess, article 11.3: during play no notes, sources of information or advice, no analysis.
#[must_use]
pub fn may_be_going_on(game: &Game, today: &str) -> bool {
    let date = game.tag("Date").unwrap_or_default();
    let open = !game.from_fen && result(game).is_none() && dated_from(date, today);
    open && !is_over(game)
}

/// The final position ends the game by itself.
fn is_over(game: &Game) -> bool {
    let mut line = Line::new(game.start.clone());
    let legal = game.main_moves.iter().all(|mv| line.push(mv).is_ok());
    legal && line.rule().is_some_and(|rule| !rule.is_claim())
}

/// True where a date is `today` or later; both as PGN writes them, so that their order is that of texts.
#[must_use]
fn dated_from(date: &str, today: &str) -> bool {
    !date.contains('?') && date.len() == today.len() && date >= today
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tree::pgn;

    fn game(date: &str, end: &str) -> Game {
        let text = format!("[Date \"{date}\"]\n[White \"Verrick, Ansa\"]\n\n{end}");
        pgn::games(&text).next().unwrap().unwrap()
    }

    #[test]
    fn a_game_of_today_without_a_result_may_be_going_on() {
        let on = |date, end| may_be_going_on(&game(date, end), "2026.02.14");
        assert!(on("2026.02.14", "1. e4 e5 *"));
        assert!(on("2026.02.15", "1. e4 e5"));
        assert!(!on("2026.02.13", "1. e4 e5 *"));
        assert!(!on("2026.02.14", "1. e4 e5 1-0"));
        assert!(!on("2026.02.14", "1. f3 e5 2. g4 Qh4# *"));
        assert!(!on("????.??.??", "1. e4 e5 *"));
        let tree = "[SetUp \"1\"]\n[FEN \"8/8/8/8/8/4k3/4p3/4K3 w - - 0 1\"]\n";
        let text = format!("[Date \"2026.02.14\"]\n{tree}\n*");
        let tree = pgn::games(&text).next().unwrap().unwrap();
        assert!(!may_be_going_on(&tree, "2026.02.14"));
    }
}
