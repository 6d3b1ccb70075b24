//! The account of an event.

use serde::Serialize;

use super::countable::{Count, Countable, CountedGame, Oversight};
use super::round;
use crate::games::account::{OddGame, odd};
use crate::games::height;
use crate::games::moment::{ADVANTAGE, Reason};
use crate::games::opening::WORSE;

/// Games in which a kind of oversight has to come, so that it runs through.
const RUNS_THROUGH: usize = 3;
/// The move before which the early middlegame is measured.
const EARLY: usize = 21;
/// Games below which a share says nothing, as for advantages in progress.
pub const GAMES_MIN: u64 = 10;

/// The account.
#[derive(Debug, Clone, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct EventAccount {
    pub rounds: Vec<RoundTold>,
    /// Points of the games with a result, and how many those are.
    pub points: f64,
    pub finished: usize,
    /// The most frequent first.
    pub oversights: Vec<OversightCount>,
    /// Games won from .85 on.
    pub converted: Count,
    /// Games in time trouble, of those with times; expected score given away a move there, and elsewhere.
    pub trouble: Count,
    pub lost_in_trouble: Option<f64>,
    pub lost_elsewhere: Option<f64>,
    /// Games in which he stood worse than level before the 21st move, of those that went so far; and his mean expected
    /// score there.
    pub early: Count,
    pub early_mean: Option<f64>,
    /// Turning points named before the judge spoke.
    pub recognised: Count,
}

/// A kind of oversight in the event.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct OversightCount {
    pub code: &'static str,
    pub words: &'static str,
    /// In how many games, and how often in all.
    pub games: usize,
    pub moments: usize,
    /// It runs through the event.
    pub runs_through: bool,
}

/// A round in one line.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct RoundTold {
    pub game: String,
    pub round: Option<u32>,
    pub date: String,
    pub white: bool,
    pub opponent: String,
    pub rating: Option<u32>,
    pub points: Option<f64>,
    /// His best expected score, before which half-move, and at which move number.
    pub peak: f64,
    pub peak_move: usize,
    pub became: Became,
    /// The move number at which he was short of time.
    pub trouble_from: Option<usize>,
    /// Turning points that he named, of all.
    pub recognised: Option<Count>,
    pub odd: Vec<OddGame>,
}

/// What became of his best chance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Became {
    /// He won.
    Won,
    /// He stood clearly better, and it was drawn or lost.
    SlippedToDraw,
    SlippedToLoss,
    /// He never stood clearly better.
    Drawn,
    Lost,
    /// No result.
    Open,
}

impl Became {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Won => tr!("won"),
            Self::SlippedToDraw => tr!("slipped to a draw"),
            Self::SlippedToLoss => tr!("slipped to a loss"),
            Self::Drawn => tr!("drawn, never clearly better"),
            Self::Lost => tr!("lost, never clearly better"),
            Self::Open => tr!("no result"),
        }
    }
}

/// The account of the games of an event, in their order.
#[must_use]
pub fn account(games: &[CountedGame<'_>]) -> EventAccount {
    let points: Vec<f64> = games
        .iter()
        .filter_map(|g| g.surveyed.game.points())
        .collect();
    let rounds: Vec<RoundTold> = games.iter().map(told).collect();
    let (mut trouble, mut early) = (Count::default(), Count::default());
    let (mut inside, mut outside, mut stood) = (Vec::new(), Vec::new(), Vec::new());
    for (game, round) in games.iter().zip(&rounds) {
        if !game.surveyed.game.times.is_empty() {
            trouble.of += 1;
            trouble.part += u64::from(round.trouble_from.is_some());
            times(game, &mut inside, &mut outside);
        }
        let own = &game.surveyed.game;
        if let Some(ply) = own.his_ply(EARLY).and_then(|p| game.surveyed.plies.get(p)) {
            early.of += 1;
            early.part += u64::from(ply.before < WORSE);
            stood.push(ply.before);
        }
    }
    let all = || games.iter().copied();
    EventAccount {
        points: points.iter().sum(),
        finished: points.len(),
        oversights: oversights(games),
        converted: Countable::Converted.count(all()),
        recognised: Countable::Recognised.count(all()),
        trouble,
        lost_in_trouble: mean(&inside),
        lost_elsewhere: mean(&outside),
        early,
        early_mean: mean(&stood),
        rounds,
    }
}

fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// What his moves gave away, in time trouble and outside of it.
fn times(of: &CountedGame<'_>, inside: &mut Vec<f64>, outside: &mut Vec<f64>) {
    let game = &of.surveyed.game;
    let limit = game.times.trouble_ms();
    for (ply, scored) in of.surveyed.plies.iter().enumerate() {
        if !game.is_his(ply) || scored.legal < 2 {
            continue;
        }
        let Some((left, limit)) = game.times.before(ply).zip(limit) else {
            continue;
        };
        if left < limit {
            inside.push(scored.drop());
        } else {
            outside.push(scored.drop());
        }
    }
}

fn oversights(games: &[CountedGame<'_>]) -> Vec<OversightCount> {
    let has = |game: &CountedGame<'_>, reason: Reason| {
        let of = game.moments.iter().filter(|m| m.reasons.contains(&reason));
        of.count()
    };
    let mut found: Vec<OversightCount> = Oversight::ALL
        .into_iter()
        .map(|oversight| {
            let reason = oversight.reason();
            let counts: Vec<usize> = games.iter().map(|g| has(g, reason)).collect();
            let with = counts.iter().filter(|n| **n > 0).count();
            OversightCount {
                code: reason.code(),
                words: reason.words(),
                games: with,
                moments: counts.iter().sum(),
                runs_through: with >= RUNS_THROUGH && 2 * with >= games.len(),
            }
        })
        .filter(|o| o.games > 0)
        .collect();
    found.sort_by_key(|o| std::cmp::Reverse((o.games, o.moments)));
    found
}

fn told(of: &CountedGame<'_>) -> RoundTold {
    let game = &of.surveyed.game;
    let (at, peak) = height::peak(of.surveyed).unwrap_or((0, 0.5));
    let limit = game.times.trouble_ms();
    let short = (0..game.plies()).filter(|p| game.is_his(*p)).find(|p| {
        let left = game.times.before(*p).zip(limit);
        left.is_some_and(|(left, limit)| left < limit)
    });
    let points = game.points();
    let rating = game.game.tag(game.side.fold_wb("BlackElo", "WhiteElo"));
    RoundTold {
        game: game.id.clone(),
        round: round(game),
        date: game.date().to_owned(),
        white: game.side.is_white(),
        opponent: game.opponent().to_owned(),
        rating: rating.and_then(|r| r.parse().ok()),
        points,
        peak,
        peak_move: game.number(at),
        became: match points {
            None => Became::Open,
            Some(p) if p >= 1.0 => Became::Won,
            Some(p) if peak >= ADVANTAGE && p > 0.0 => Became::SlippedToDraw,
            Some(_) if peak >= ADVANTAGE => Became::SlippedToLoss,
            Some(p) if p > 0.0 => Became::Drawn,
            Some(_) => Became::Lost,
        },
        trouble_from: short.map(|p| game.number(p)),
        recognised: of.compared.map(|c| Count {
            part: c.recognised() as u64,
            of: c.turning.len() as u64,
        }),
        odd: odd(game),
    }
}
