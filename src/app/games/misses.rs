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
