//! What came of what he expected: the results of play-outs and of own games, held against his verdicts,
//! and what became of his advantages.

use std::collections::{HashMap, HashSet};

use crate::app::progress::service::ProgressService;
use crate::app::{AppError, AttemptId, GameId, GameSummary, HistoryEntry};
use crate::attempt::Origin;
use crate::board::{PositionKey, line, phase};
use crate::games::Marks;
use crate::playout::{Goal, Outcome};
use crate::progress::converting::{Advantage, Played};
use crate::progress::judgement::Results;
use crate::progress::recognising::Recognised;
use crate::progress::stats::forecast::Forecast;
use crate::progress::{AttemptStatistics, Source};

type Attempts<'a> = &'a [(String, AttemptStatistics)];

/// All that came of play-outs and games.
#[derive(Debug, Default)]
pub(crate) struct ForecastOutcomes {
    pub(crate) results: Vec<Results>,
    pub(crate) played: Vec<Played>,
    pub(crate) own_games: Vec<Advantage>,
    pub(crate) recognised: Vec<Recognised>,
}

impl ProgressService {
    /// Gathers it. `summaries` are those of all attempts.
    pub(crate) fn came(
        &self,
        counted: Attempts<'_>,
        summaries: &[(AttemptId, HistoryEntry)],
    ) -> Result<ForecastOutcomes, AppError> {
        let mut games = self.playouts.games_played_out()?;
        games.reverse();
        let own = self.repository.store().scan::<Advantage>()?;
        let recognised = self.repository.store().scan::<Recognised>()?;
        Ok(ForecastOutcomes {
            results: vec![
                from_play_outs(&games, counted, summaries),
                self.own_results(counted)?,
            ],
            played: games.iter().filter_map(|(_, g)| played(g)).collect(),
            own_games: own.into_iter().map(|(_, a)| a).collect(),
            recognised: recognised.into_iter().map(|(_, r)| r).collect(),
        })
    }

    /// What he wrote into his games from memory. He knew the result when he wrote it.
    fn own_results(&self, counted: Attempts<'_>) -> Result<Results, AppError> {
        let mut results = Results {
            words: tr!("your own games, written from memory with the result known"),
            ..Results::default()
        };
        let stated = |name: &str| {
            let at = counted.binary_search_by(|(id, _)| id.as_str().cmp(name));
            counted.get(at.ok()?)?.1.forecast
        };
        let marks = self.repository.store().scan::<Marks>()?;
        let mut of_game: HashMap<String, Vec<f32>> = HashMap::new();
        for (game, marks) in marks {
            let said: Vec<f32> = marks
                .notes
                .iter()
                .filter_map(|(_, id)| stated(id))
                .collect();
            if !said.is_empty() {
                of_game.insert(game, said);
            }
        }
        if of_game.is_empty() {
            return Ok(results);
        }
        for game in self.games.own_games()? {
            if let (Some(points), Some(said)) = (game.points(), of_game.get(&game.id)) {
                results.games += 1;
                results
                    .forecasts
                    .extend(said.iter().map(|e| forecast(*e, points)));
            }
        }
        Ok(results)
    }
}

fn forecast(stated: f32, came: f64) -> Forecast {
    Forecast {
        stated: f64::from(stated),
        came,
    }
}

/// Points of a game; `None` where it was not played to its end.
fn points(outcome: Outcome) -> Option<f64> {
    match outcome {
        Outcome::Won => Some(1.0),
        Outcome::Drawn => Some(0.5),
        Outcome::Lost => Some(0.0),
        Outcome::Held => None,
    }
}

/// What he expected in a play-out, and the last thing he expected in a sitting at its start before it.
fn from_play_outs(
    games: &[(GameId, GameSummary)],
    counted: Attempts<'_>,
    summaries: &[(AttemptId, HistoryEntry)],
) -> Results {
    let results: HashMap<&str, f64> = games
        .iter()
        .filter_map(|(id, g)| Some((id.0.as_str(), points(g.outcome?)?)))
        .collect();
    let origins: HashMap<&str, &Origin> = summaries
        .iter()
        .map(|(id, s)| (id.0.as_str(), &s.origin))
        .collect();
    let (mut of, mut forecasts) = (HashSet::new(), Vec::new());
    let mut before: HashMap<&str, Vec<(i64, f32)>> = HashMap::new();
    for (id, c) in counted {
        let Some(stated) = c.forecast else {
            continue;
        };
        if let Some(Origin::Playout { game, .. }) = origins.get(id.as_str()) {
            if let Some(came) = results.get(game.as_str()) {
                of.insert(game.as_str());
                forecasts.push(forecast(stated, *came));
            }
        } else if c.source == Source::Sitting {
            let at = before.entry(c.root.as_str()).or_default();
            at.push((c.wall_ms, stated));
        }
    }
    for (id, game) in games.iter().filter(|(_, g)| is_to_move(g)) {
        let Some(came) = results.get(id.0.as_str()) else {
            continue;
        };
        let root = game.root.parse::<PositionKey>().ok();
        let said = root.and_then(|root| before.get(root.as_str()));
        let earlier = said
            .into_iter()
            .flatten()
            .filter(|(at, _)| *at <= game.wall_ms);
        if let Some((_, stated)) = earlier.max_by_key(|(at, _)| *at) {
            of.insert(id.0.as_str());
            forecasts.push(forecast(*stated, *came));
        }
    }
    Results {
        words: tr!("your play-outs"),
        games: of.len(),
        forecasts,
    }
}

/// He plays the side to move at the start: whoever sat there before spoke of the same side.
fn is_to_move(game: &GameSummary) -> bool {
    line::read_fen(&game.root)
        .is_ok_and(|p| shakmaty::Position::turn(&p) == shakmaty::Color::from(game.side))
}

fn played(game: &GameSummary) -> Option<Played> {
    let won = game.outcome? == Outcome::Won;
    if game.goal != Goal::Win {
        return None;
    }
    let phase = line::read_fen(&game.root).ok().map(|p| phase::of(&p));
    Some(Played {
        what: format!("{} {}", game.root, game.level),
        advantage: game.start.map(|from| Advantage {
            from,
            phase,
            clock: Some(game.clocked),
            won,
        }),
        won,
    })
}
