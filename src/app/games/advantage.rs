//! How well he stood in his own games.

use crate::app::AppError;
use crate::app::games::service::GameService;
use crate::board::phase;
use crate::games::height;
use crate::games::survey::Surveyed;
use crate::progress::converting::{Advantage, HEIGHTS};

impl GameService {
    /// Keeps how well he stood in a game that has been judged; a game without a result says nothing.
    pub(crate) fn keep_advantage(&self, of: &Surveyed) -> Result<(), AppError> {
        let store = self.repository.store();
        let id = &of.game.id;
        match advantage(of) {
            Some(now) if store.get::<Advantage>(id)? == Some(now) => {}
            Some(now) => store.put(id, &now)?,
            None => drop(store.remove::<Advantage>(id)?),
        }
        Ok(())
    }
}

/// How well he stood in an own game; `None` without a result.
fn advantage(of: &Surveyed) -> Option<Advantage> {
    let points = of.game.points()?;
    let [lowest, ..] = HEIGHTS;
    let first = height::first_from(of, lowest);
    let times = &of.game.times;
    let short = |from: usize| {
        let limit = times.trouble_ms().filter(|_| !times.is_empty())?;
        let mut own = (from..of.plies.len()).filter(|p| of.game.is_his(*p));
        Some(own.any(|p| times.before(p).is_some_and(|left| left < limit)))
    };
    Some(Advantage {
        from: height::peak(of).map_or(0.0, |peak| peak.1),
        phase: first.map(|ply| phase::of(of.game.line_to(ply).position())),
        clock: first.and_then(short),
        won: points >= 1.0,
    })
}
