//! What he missed in his own games, move by move, by the properties of what was to be seen.

use shakmaty::Position;

use crate::app::AppError;
use crate::app::games::service::GameService;
use crate::board::{Line, motif, sacrifice};
use crate::games::survey::Surveyed;
use crate::progress::Bits;
use crate::progress::experiment::GameMisses;
use crate::review::Turn;

/// Nothing can be missed beyond these (as in the choice of moments).
const DECIDED: (f64, f64) = (0.03, 0.97);

impl GameService {
    /// Keeps the cases of a game that has been judged. `delta` is what a move must lose to be a miss.
    pub(crate) fn keep_misses(&self, of: &Surveyed, delta: f64) -> Result<(), AppError> {
        let store = self.repository.store();
        let now = misses(of, delta);
        if store.get::<GameMisses>(&of.game.id)?.as_ref() != Some(&now) {
            store.put(&of.game.id, &now)?;
        }
        Ok(())
    }
}

/// At each of his moves: the best move, where it alone held, and whether he played it; and the best reply to what he played, and
/// whether his move lost to it.
fn misses(of: &Surveyed, delta: f64) -> GameMisses {
    let game = &of.game;
    let mut cases = Vec::new();
    for (ply, scored) in of.plies.iter().enumerate().filter(|(p, _)| game.is_his(*p)) {
        if scored.legal < 2 || scored.before < DECIDED.0 || scored.before > DECIDED.1 {
            continue;
        }
        let seen = scored.drop() < delta;
        if let [best, second, ..] = scored.best.as_slice()
            && best.expected - second.expected >= delta
            && let Some(mv) = best.line.first()
        {
            let case = case(&game.line_to(ply), mv, Turn::Player);
            cases.extend(case.map(|bits| bits.with_seen(seen)));
        }
        let reply = of.plies.get(ply + 1).and_then(|p| p.best.first());
        if let Some(mv) = reply.and_then(|b| b.line.first()) {
            let case = case(&game.line_to(ply + 1), mv, Turn::Opponent);
            cases.extend(case.map(|bits| bits.with_seen(seen)));
        }
    }
    GameMisses {
        date_ms: midnight(game.date()),
        cases,
    }
}

fn case(at: &Line, mv: &shakmaty::Move, turn: Turn) -> Option<Bits> {
    let position = at.position();
    position.is_legal(mv).then(|| {
        let class = motif::forcing_class(position, mv);
        let gives = sacrifice::offer(position, mv).is_some_and(|o| o.is_sacrifice());
        Bits::moves(class, &motif::motifs(at, mv), mv.role()).by(turn, gives)
    })
}

/// Midnight UTC of a date as PGN writes it; `None` where a part of it is not known.
fn midnight(date: &str) -> Option<i64> {
    let date = jiff::civil::Date::strptime("%Y.%m.%d", date).ok()?;
    let at = date.to_zoned(jiff::tz::TimeZone::UTC).ok()?;
    Some(at.timestamp().as_millisecond())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::Whose;
    use crate::app::testing::app::Trial;
    use crate::games::survey::Settings;
    use crate::progress::Feature;

    /// An invented game in which the queen is left to the knight at move 5.
    const GAME: &str = "[Date \"2026.02.14\"]\n[White \"Verrick, Ansa\"]\n[Black \"Pell, Doran\"]\n[Result \"0-1\"]\n\n\
        1. e4 e5 2. Nf3 Nc6 3. d4 exd4 4. Nxd4 Nf6 5. Qg4 Nxg4 6. Nc3 Nxd4 0-1\n";

    #[test]
    fn a_judged_game_leaves_a_case_a_move() {
        let trial = Trial::usual();
        let games = trial.app.games();
        let whose = Whose {
            player: Some("Verrick, Ansa".to_owned()),
            ..Whose::default()
        };
        games
            .add_games(GAME.as_bytes(), &whose, &mut |_| None, &mut |_| {})
            .unwrap();
        games
            .judge_games(&Settings::default(), &mut |_| {})
            .unwrap();
        let kept: Vec<GameMisses> = trial.repository().scan().unwrap();
        let [game] = kept.as_slice() else {
            panic!("{kept:?}");
        };
        // 2026-02-14 is day 20498 since 1970-01-01.
        assert_eq!(game.date_ms, Some(20_498 * 86_400_000));
        let of = |name: &str| Feature::named(name).unwrap();
        let replies: Vec<&Bits> = game.cases.iter().filter(|c| c.has(of("replies"))).collect();
        let missed = replies.iter().filter(|c| !c.seen());
        let missed: Vec<_> = missed.collect();
        assert!(replies.len() >= 4 && !missed.is_empty(), "{kept:?}");
        // The knight takes the queen.
        let knight = |c: &&&&Bits| c.has(of("captures")) && c.has(of("knight-moves"));
        assert!(missed.iter().find(knight).is_some(), "{missed:?}");
        assert_eq!(midnight("2026.??.??"), None);
    }
}
