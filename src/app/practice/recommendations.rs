//! What to practise now, and on the eve of a game.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use jiff::tz::TimeZone;

use crate::app::attempts::records::AttemptId;
use crate::app::attempts::repository::AttemptRepository;
use crate::app::attempts::selection::SelectionReasons;
use crate::app::games::service::GameService;
use crate::app::practice::catalogue::DrillCatalogue;
use crate::app::practice::drill_library;
use crate::app::practice::experiment::ExperimentService;
use crate::app::projections::AttemptIndex;
use crate::app::{AppError, Clock};
use crate::attempt::Origin;
use crate::board::{PositionKey, motif, sacrifice};
use crate::drill::Drill;
use crate::progress::count::Tally;
use crate::progress::next::{self, Candidate, Chosen, Done};
use crate::progress::spots::from_tally;
use crate::progress::{self, Bits, Spot, State};
use crate::review::Turn;
use crate::text;
use crate::tree::NodeId;

/// Chooses positions.
#[derive(Clone)]
pub struct PracticeService {
    pub(crate) repository: Arc<AttemptRepository>,
    pub(crate) drills: DrillCatalogue,
    pub(crate) clock: Arc<dyn Clock>,
    pub(crate) reasons: SelectionReasons,
    pub(crate) games: GameService,
    pub(crate) experiments: ExperimentService,
}

/// A position to practise now. Why it was chosen is told by [`App::why_chosen`], after the commit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recommendation {
    /// The drill's name.
    pub drill: String,
    /// Its place in the collection, or among the positions of own games; the first being 1.
    pub number: usize,
    /// Thinking time.
    pub minutes: u32,
}

/// The eve of a game: nothing new.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PreGamePlan {
    /// Up to three positions that were solved.
    pub drills: Vec<Recommendation>,
    /// Up to two habits, in words.
    pub habits: Vec<String>,
    /// What he took away from his last event, in his own words.
    pub takeaways: Vec<String>,
}

impl PracticeService {
    /// What to practise in so many minutes; at least one position where there is any.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn next(&self, minutes: u32) -> Result<Vec<Recommendation>, AppError> {
        let chosen = self.choose(minutes)?;
        self.reasons.offer(chosen.clone());
        let offers = chosen.into_iter().filter_map(|c| {
            Some(Recommendation {
                minutes: c.minutes,
                ..self.offer(c.id)?
            })
        });
        Ok(offers.collect())
    }

    /// What was failed and is due to come back, in one sentence; `None` where nothing is.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn debt(&self, zone: &TimeZone) -> Result<Option<String>, AppError> {
        let index = self.repository.index()?;
        let done = self.done(&index);
        let candidates = self.candidates(&done, false);
        let debt = next::debt(&candidates, &done, self.clock.wall_ms());
        let since = jiff::Timestamp::from_millisecond(debt.oldest_ms).unwrap_or_default();
        let since = text::date(since.to_zoned(zone.clone()).date());
        Ok(match (debt.positions, debt.minutes) {
            (0, _) => None,
            (1, minutes) => Some(tr!(
                "1 position is due back since {since}, {minutes} minutes."
            )),
            (n, minutes) => Some(tr!(
                "{n} positions are due back, {minutes} minutes, the first since {since}."
            )),
        })
    }

    fn offer(&self, drill: String) -> Option<Recommendation> {
        let (number, found) = self.drills.find(&drill).ok()?;
        let minutes = found.minutes;
        Some(Recommendation {
            drill,
            number,
            minutes,
        })
    }

    fn choose(&self, minutes: u32) -> Result<Vec<Chosen>, AppError> {
        let index = self.repository.index()?;
        let done = self.done(&index);
        let now_ms = self.clock.wall_ms();
        if let Some(experiment) = self.experiments.running()? {
            let candidates = self.candidates(&done, true);
            return Ok(next::in_blocks(
                &candidates,
                &done,
                &experiment,
                now_ms,
                minutes,
            ));
        }
        let spots: Vec<_> = found(&index)
            .into_iter()
            .map(|s| s.feature)
            .filter(|f| is_in_positions(f.group()))
            .collect();
        let candidates = self.candidates(&done, !spots.is_empty());
        Ok(next::next(&candidates, &done, &spots, now_ms, minutes))
    }

    /// Why the position of a locked sitting was chosen, in one sentence; `None` where he chose it himself
    /// or it is not known any more.
    ///
    /// # Errors
    /// There is no such attempt, it is not locked yet, or the store cannot be read.
    pub fn why_chosen(&self, id: &AttemptId) -> Result<Option<String>, AppError> {
        if self.repository.attempt(id)?.locked_ms().is_none() {
            return Err(AppError::NotLocked);
        }
        self.reasons.why(id)
    }

    /// The eve of a game: three solved positions, two habits in words, nothing new.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn eve(&self) -> Result<PreGamePlan, AppError> {
        let index = self.repository.index()?;
        let done = self.done(&index);
        let solved = next::eve(&self.candidates(&done, false), &done).into_iter();
        Ok(PreGamePlan {
            drills: solved.filter_map(|id| self.offer(id)).collect(),
            habits: found(&index).iter().take(2).map(Spot::habit).collect(),
            takeaways: self.games.reminder()?.words,
        })
    }

    /// The attempts in the order of their names, with what came of them.
    fn done(&self, index: &AttemptIndex) -> Vec<Done> {
        let firsts = index.first_sights.iter();
        let roots: HashMap<&str, &str> = firsts
            .map(|(root, id)| (id.as_str(), root.as_str()))
            .collect();
        let mut done = Vec::new();
        for (id, summary) in &index.history {
            let known = index.statistics.get(id);
            let root = match (known, roots.get(id.as_str()), &summary.origin) {
                (Some(c), ..) => c.root.clone(),
                (None, Some(root), _) => (*root).to_owned(),
                // Seen before and not reviewed: the drill's position, where the drill still stands.
                (None, None, Origin::Drill(drill)) => match self.drills.find(drill) {
                    Ok((_, drill)) => root_of(drill),
                    Err(_) => continue,
                },
                _ => continue,
            };
            done.push(Done {
                root,
                wall_ms: summary.wall_ms,
                outcome: known.map(|c| c.outcome),
            });
        }
        done
    }

    /// The drills as candidates, in the order in which new ones are offered; what they hold is looked up only
    /// where it is asked for.
    fn candidates(&self, done: &[Done], features: bool) -> Vec<Candidate> {
        // What is shipped to be played out is offered there alone, until it was tried.
        let candidate = |drill: &Drill| {
            (
                drill.is_of_the_ladder(),
                Candidate {
                    id: drill.id.clone(),
                    root: root_of(drill),
                    minutes: drill.minutes,
                    features: if features {
                        holds(drill)
                    } else {
                        Bits::default()
                    },
                    game_ms: game_ms(drill),
                },
            )
        };
        let seed = done.iter().map(|d| d.wall_ms).min().unwrap_or_default();
        let tried: HashSet<&str> = done.iter().map(|d| d.root.as_str()).collect();
        let ordered = drill_library::order(self.drills.all(), seed).into_iter();
        ordered
            .map(candidate)
            .filter(|(ladder, c)| !ladder || tried.contains(c.root.as_str()))
            .map(|(_, candidate)| candidate)
            .collect()
    }
}

/// The position of a drill, as attempts at it are counted under.
pub(crate) fn root_of(drill: &Drill) -> String {
    PositionKey::of(drill.root.position()).to_string()
}

/// The blind spots, without the moments they are made of.
fn found(index: &AttemptIndex) -> Vec<Spot> {
    let sight = progress::main_sight(index.statistics.values());
    let main = index.statistics.values();
    let tally = Tally::of(main.filter(|c| c.is_in_main_group(sight)));
    let mut spots = from_tally(&tally);
    spots.retain(|s| s.state == State::Found);
    spots
}

/// When the own game was played that a drill comes from, milliseconds since 1970-01-01 UTC.
fn game_ms(drill: &Drill) -> Option<i64> {
    let midnight = drill.game_date()?.to_zoned(TimeZone::UTC).ok()?;
    Some(midnight.timestamp().as_millisecond())
}

/// Properties that a position can hold, other than those of the player's circumstances.
fn is_in_positions(group: progress::feature::Group) -> bool {
    use progress::feature::Group;
    matches!(group, Group::Motif | Group::Piece | Group::GivesUp)
}

/// What stands in a drill's solution, on both sides.
fn holds(drill: &Drill) -> Bits {
    let tree = &drill.solution;
    let nodes = tree.nodes().filter(|(id, _)| *id != NodeId::ROOT);
    nodes.fold(Bits::default(), |all, (id, _)| {
        let before = tree.parent(id).and_then(|p| tree.line(p));
        match (before, tree.legal(id)) {
            (Some(line), Some(mv)) => {
                let class = motif::forcing_class(line.position(), mv);
                let gives = sacrifice::offer(line.position(), mv).is_some_and(|o| o.is_sacrifice());
                let turn = match line.turn() == tree.root().player() {
                    true => Turn::Player,
                    false => Turn::Opponent,
                };
                let bits = Bits::moves(class, &motif::motifs(&line, mv), mv.role());
                all.or(bits.by(turn, gives))
            }
            _ => all,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::testing::app::drill;

    #[test]
    fn own_games_carry_their_date() {
        let day = |id| {
            let drill = drill(id, "8/8/1KP5/3r4/8/8/8/k7 w - - 0 1", "c7");
            game_ms(&drill).map(|ms| ms / progress::schedule::DAY_MS)
        };
        // 2026-02-14 is day 20498 since 1970-01-01.
        assert_eq!(day("own-20260214-3f9a1c-17w"), Some(20_498));
        assert_eq!(day("own-00000000-3f9a1c-17w"), None);
        assert_eq!(day("own-2026"), None);
        assert_eq!(day("saavedra-1895"), None);
    }
}
