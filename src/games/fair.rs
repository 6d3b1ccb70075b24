//! Whether a game may be judged.

use super::kept::{OwnGame, result};

/// True where the game may still be going on: it has no result, and its date is today (`2026.02.14`) or
/// later. Of a game without a date nobody can tell; a file of old games has many, so it counts as over.
/// FIDE Laws of Chess, article 11.3: during play no notes, sources of information or advice, no analysis.
#[must_use]
pub fn may_be_going_on(game: &OwnGame, today: &str) -> bool {
    result(&game.game).is_none() && !is_over(game) && dated_from(game.date(), today)
}

/// The final position ends the game by itself.
fn is_over(game: &OwnGame) -> bool {
    let end = game.line_to(game.plies());
    end.rule().is_some_and(|rule| !rule.is_claim())
}

/// True where a date is `today` or later; both as PGN writes them, so that their order is that of texts.
#[must_use]
pub fn dated_from(date: &str, today: &str) -> bool {
    !date.contains('?') && date.len() == today.len() && date >= today
}

#[cfg(test)]
mod tests {
    use super::super::kept::KeptGame;
    use super::*;

    fn game(date: &str, end: &str) -> OwnGame {
        let pgn = format!("[Date \"{date}\"]\n[White \"Verrick, Ansa\"]\n\n{end}");
        let kept = KeptGame {
            id: "x".to_owned(),
            white: true,
            pgn,
            moves: String::new(),
        };
        OwnGame::read(&kept).unwrap()
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
    }
}
