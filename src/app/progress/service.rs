//! Progress across attempts: what is kept of each review, and what it says together.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::sync::{MutexGuard, PoisonError};

use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde::{Deserialize, Serialize};

use crate::app::{App, AppError, SittingId, Summary};
use crate::attempt::{Attempt, Origin, What};
use crate::board::{line, motif};
use crate::drill::Drill;
use crate::progress::account::Plan;
use crate::progress::count::Tally;
use crate::progress::next::{self, Candidate, Chosen, Done, Why};
use crate::progress::spots::from_tally;
use crate::progress::{
    self, Bits, Circumstances, Counted, Feature, Given, Moment, Moments, Report, Source, Spot,
    State, Struck,
};
use crate::review::{Review, value_of_verdict};
use crate::store::Record;
use crate::text::capital;
use crate::tree::NodeId;

/// The one plan is kept under this name.
const PLAN: &str = "now";
/// Latest moments of a blind spot that are opened from the screens.
const MOMENTS_MAX: usize = 200;
/// Attempts whose causes are counted: each is read from its log.
const CAUSES_OF: usize = 500;

/// A position to practise now. Why it was chosen is told by [`App::why_chosen`], after the commit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Next {
    /// The drill's name.
    pub drill: String,
    /// Its place in the collection, or among the positions of own games; the first being 1.
    pub number: usize,
    /// Thinking time.
    pub minutes: u32,
}

/// A blind spot with the moments it is made of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlindSpot {
    /// The kind of move.
    pub words: String,
    /// How often it is missed, and how often the others.
    pub sentence: String,
    /// What to do about it.
    pub habit: String,
    pub missed: Vec<Missed>,
}

/// A missed moment of an attempt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missed {
    pub id: SittingId,
    pub origin: Origin,
    /// When the attempt was opened, milliseconds since 1970-01-01 UTC.
    pub wall_ms: i64,
    pub moment: Moment,
}

/// The eve of a game: nothing new.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Eve {
    /// Up to three positions that were solved.
    pub drills: Vec<Next>,
    /// Up to two habits, in words.
    pub habits: Vec<String>,
}

/// Why a sitting's position was chosen. Lost without harm: then nothing is said.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Because(Why);

impl Record for Because {
    const TABLE: &'static str = "because";
    const VERSION: u32 = 1;
    const DISPOSABLE: bool = true;
}

/// The position of an attempt as its name among all positions: board, side to move, castling rights and
/// en passant square.
pub(crate) fn root_name(attempt: &Attempt) -> String {
    position_name(&line::fen(attempt.tree().root().position()))
}

/// As [`root_name`], of a FEN.
pub(crate) fn position_name(fen: &str) -> String {
    fen.split(' ').take(4).collect::<Vec<_>>().join("_")
}

impl App {
    /// Keeps what a review says beyond its own tree. Writes two records, whatever there is already.
    pub(crate) fn count(
        &self,
        id: &SittingId,
        attempt: &Attempt,
        review: &Review,
    ) -> Result<(), AppError> {
        let root = root_name(attempt);
        let opened = attempt.opened();
        let of = Circumstances {
            wall_ms: opened.wall_ms,
            source: source(&opened.origin),
            sight: opened.sight,
            first: self.kept.sight(&root, id)?,
            forecast: forecast(attempt),
            root,
        };
        let struck = struck(attempt);
        let (counted, moments) =
            progress::counted(of, review, &struck, self.settings.delta.value());
        let store = self.kept.store();
        // The moments first: a count without its moments would open nothing.
        store.put(&id.0, &moments)?;
        store.put(&id.0, &counted)?;
        Ok(())
    }

    /// All that was counted, in the order of the attempts' names.
    pub(crate) fn counted(&self) -> Result<Vec<(String, Counted)>, AppError> {
        Ok(self.kept.store().scan()?)
    }

    /// What to practise in so many minutes; at least one position where there is any.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn next(&self, minutes: u32) -> Result<Vec<Next>, AppError> {
        let chosen = self.choose(minutes)?;
        *self.offered() = chosen.clone();
        let offers = chosen.into_iter().filter_map(|c| {
            Some(Next {
                minutes: c.minutes,
                ..self.offer(c.id)?
            })
        });
        Ok(offers.collect())
    }

    fn offer(&self, drill: String) -> Option<Next> {
        let (number, found) = self.drill(&drill).ok()?;
        let minutes = found.minutes;
        Some(Next {
            drill,
            number,
            minutes,
        })
    }

    fn choose(&self, minutes: u32) -> Result<Vec<Chosen>, AppError> {
        let counted = self.counted()?;
        let spots: Vec<_> = self
            .found(&counted)
            .into_iter()
            .map(|s| s.feature)
            .filter(|f| is_in_positions(f.group()))
            .collect();
        let done = self.done(&counted)?;
        let candidates = self.candidates(&done, !spots.is_empty());
        Ok(next::next(
            &candidates,
            &done,
            &spots,
            self.clock.wall_ms(),
            minutes,
        ))
    }

    /// What was offered last.
    fn offered(&self) -> MutexGuard<'_, Vec<Chosen>> {
        // The list is replaced whole: a thread that panicked leaves none half written.
        self.offered.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Keeps why the drill was offered, where it was, under the name of the sitting that takes it up.
    pub(crate) fn keep_why(&self, id: &SittingId, drill: &str) -> Result<(), AppError> {
        let chosen = self.offered().iter().find(|c| c.id == drill).cloned();
        if let Some(chosen) = chosen {
            self.kept.store().put(&id.0, &Because(chosen.why))?;
        }
        Ok(())
    }

    /// Why the position of a locked sitting was chosen, in one sentence; `None` where he chose it himself
    /// or it is not known any more.
    ///
    /// # Errors
    /// There is no such attempt, it is not locked yet, or the store cannot be read.
    pub fn why_chosen(&self, id: &SittingId) -> Result<Option<String>, AppError> {
        if self.kept.attempt(id)?.locked_ms().is_none() {
            return Err(AppError::NotLocked);
        }
        let because: Option<Because> = self.kept.store().get(&id.0)?;
        Ok(because.map(|b| b.0.sentence()))
    }

    /// The eve of a game: three solved positions, two habits in words, nothing new.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn eve(&self) -> Result<Eve, AppError> {
        let counted = self.counted()?;
        let done = self.done(&counted)?;
        let found = self.found(&counted);
        let solved = next::eve(&self.candidates(&done, false), &done).into_iter();
        Ok(Eve {
            drills: solved.filter_map(|id| self.offer(id)).collect(),
            habits: found.iter().take(2).map(Spot::habit).collect(),
        })
    }

    /// What he misses more often than his other moves, each with the latest moments it is made of, the last one first;
    /// empty where there is nothing, or not enough yet.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn blind_spots(&self) -> Result<Vec<BlindSpot>, AppError> {
        let counted = self.counted()?;
        let all = progress::spots(&progress::main_group(&counted));
        let mut spots = Vec::new();
        for spot in all.iter().filter(|s| s.state == State::Found) {
            let mut missed = Vec::new();
            for (id, at) in spot.moments.iter().rev().take(MOMENTS_MAX) {
                missed.extend(self.missed(id, *at)?);
            }
            spots.push(BlindSpot {
                words: capital(spot.words),
                sentence: spot.sentence(),
                habit: spot.habit(),
                missed,
            });
        }
        Ok(spots)
    }

    /// One moment of an attempt; `None` where it is not kept any more.
    fn missed(&self, id: &str, at: usize) -> Result<Option<Missed>, AppError> {
        let moments: Option<Moments> = self.kept.store().get(id)?;
        let moment = moments.and_then(|m| m.moments.into_iter().nth(at));
        let summary: Option<Summary> = self.kept.store().get(id)?;
        Ok(summary.zip(moment).map(|(summary, moment)| Missed {
            id: SittingId(id.to_owned()),
            origin: summary.origin,
            wall_ms: summary.wall_ms,
            moment,
        }))
    }

    /// All that the attempts say together.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn progress(&self, zone: &TimeZone) -> Result<Report, AppError> {
        let counted = self.counted()?;
        let known: HashSet<&str> = counted.iter().map(|(id, _)| id.as_str()).collect();
        let summaries = self.kept.summaries()?;
        let uncounted = summaries
            .iter()
            .filter(|(id, _)| !known.contains(id.0.as_str()))
            .count();
        let roots: HashMap<&str, &str> = counted
            .iter()
            .map(|(id, c)| (id.as_str(), c.root.as_str()))
            .collect();
        let gone = |id: &SittingId, origin: &Origin| match (origin, roots.get(id.0.as_str())) {
            (Origin::Drill(name), Some(root)) => self
                .drill(name)
                .map_or(true, |(_, drill)| drill_name(drill) != *root),
            _ => false,
        };
        let came = self.came(&counted, &summaries)?;
        let given = Given {
            uncounted,
            gone: summaries
                .iter()
                .filter(|(id, s)| gone(id, &s.origin))
                .count(),
            plan: self.plan()?,
            results: came.results,
            played: came.played,
            own_games: came.own_games,
            grades: self.grades(),
            causes: self.own_causes(&counted)?,
            removed: self.removed_causes()?,
            now_ms: self.clock.wall_ms(),
            counted,
        };
        let mut report = progress::report(given, zone);
        let found = report.spots.iter().filter(|s| s.state == State::Found);
        let ids: BTreeSet<&str> = found
            .flat_map(|s| s.moments.iter().map(|(id, _)| id.as_str()))
            .collect();
        let mut moments = BTreeMap::new();
        for id in ids {
            let kept: Option<Moments> = self.kept.store().get(id)?;
            moments.insert(id.to_owned(), kept.unwrap_or_default().moments);
        }
        report.moments = moments;
        Ok(report)
    }

    /// The grades of the drills that have one, by their positions.
    fn grades(&self) -> HashMap<String, u8> {
        let graded = |d: &Drill| Some((drill_name(d), d.grade?.into()));
        self.drills.iter().filter_map(graded).collect()
    }

    /// Why he missed what he missed, in his own words, with the kind of the finding: of the latest
    /// [`CAUSES_OF`] attempts that have findings.
    fn own_causes(&self, counted: &[(String, Counted)]) -> Result<Vec<(String, String)>, AppError> {
        let with = counted.iter().rev().filter(|(_, c)| !c.kinds.is_empty());
        let mut causes = Vec::new();
        for (id, _) in with.take(CAUSES_OF) {
            causes.extend(explained(&self.kept.attempt(&SittingId(id.clone()))?));
        }
        Ok(causes)
    }

    /// The plan that he has set himself.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn plan(&self) -> Result<Plan, AppError> {
        Ok(self.kept.store().get(PLAN)?.unwrap_or_default())
    }

    /// Sets a new plan in place of the old one.
    ///
    /// # Errors
    /// There is no habit of that name, or it could not be kept.
    pub fn set_plan(&self, plan: &Plan) -> Result<(), AppError> {
        if let Some(name) = plan
            .habit
            .as_deref()
            .filter(|h| Feature::named(h).is_none())
        {
            let all: Vec<&str> = Feature::all().map(Feature::name).collect();
            return Err(AppError::NoSuchHabit(name.to_owned(), all.join(", ")));
        }
        Ok(self.kept.store().put(PLAN, plan)?)
    }

    /// Reviews every locked attempt that is not counted yet, and counts it; gives how many. The start of
    /// play-outs that are over is judged as well.
    ///
    /// # Errors
    /// As [`App::review`]; what was counted until then stays.
    pub fn count_all(&self, progress: &mut dyn FnMut(usize, usize)) -> Result<usize, AppError> {
        let counted = self.counted()?;
        let known: HashSet<&str> = counted.iter().map(|(id, _)| id.as_str()).collect();
        let summaries = self.kept.summaries()?;
        let left: Vec<&SittingId> = summaries
            .iter()
            .map(|(id, _)| id)
            .filter(|id| !known.contains(id.0.as_str()))
            .collect();
        for (done, id) in left.iter().enumerate() {
            progress(done, left.len());
            self.review(id, &mut |_, _| {})?;
        }
        self.judge_starts()?;
        Ok(left.len())
    }

    /// The blind spots, without the moments they are made of.
    fn found(&self, counted: &[(String, Counted)]) -> Vec<Spot> {
        let main = progress::main_group(counted);
        let tally = Tally::of(main.iter().map(|(_, c)| c));
        let mut spots = from_tally(&tally);
        spots.retain(|s| s.state == State::Found);
        spots
    }

    /// The attempts in the order of their names, with what came of them.
    fn done(&self, counted: &[(String, Counted)]) -> Result<Vec<Done>, AppError> {
        let outcomes: HashMap<&str, &Counted> =
            counted.iter().map(|(id, c)| (id.as_str(), c)).collect();
        let roots = self.kept.sighted()?;
        let mut done = Vec::new();
        for (id, summary) in self.kept.summaries()? {
            let known = outcomes.get(id.0.as_str());
            let root = match (known, roots.get(&id.0), &summary.origin) {
                (Some(c), ..) => c.root.clone(),
                (None, Some(root), _) => root.clone(),
                // Seen before and not reviewed: the drill's position, where the drill still stands.
                (None, None, Origin::Drill(drill)) => match self.drill(drill) {
                    Ok((_, drill)) => drill_name(drill),
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
        Ok(done)
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
                    root: drill_name(drill),
                    minutes: drill.minutes,
                    features: if features {
                        holds(drill)
                    } else {
                        Bits::default()
                    },
                    game_ms: game_ms(&drill.id),
                },
            )
        };
        let seed = done.iter().map(|d| d.wall_ms).min().unwrap_or_default();
        let tried: HashSet<&str> = done.iter().map(|d| d.root.as_str()).collect();
        let ordered = crate::app::practice::drill_library::order(&self.drills, seed).into_iter();
        ordered
            .map(candidate)
            .filter(|(ladder, c)| !ladder || tried.contains(c.root.as_str()))
            .map(|(_, candidate)| candidate)
            .collect()
    }
}

fn drill_name(drill: &Drill) -> String {
    position_name(&line::fen(drill.root.position()))
}

/// When the own game was played that a drill comes from: its name begins with the date (see
/// [`crate::games::OWN`]). `None` for other drills, and for games without a date.
fn game_ms(id: &str) -> Option<i64> {
    let digits = id.strip_prefix(crate::games::OWN)?.get(..8)?;
    let date = Date::strptime("%Y%m%d", digits).ok()?;
    let midnight = date.to_zoned_datetime(TimeZone::UTC).ok()?;
    Some(midnight.timestamp().as_millisecond())
}

/// Properties that a position can hold, other than those of the player's circumstances.
fn is_in_positions(group: progress::feature::Group) -> bool {
    use progress::feature::Group;
    matches!(group, Group::Motif | Group::Piece)
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
                all.or(Bits::moves(class, &motif::motifs(&line, mv), mv.role()))
            }
            _ => all,
        }
    })
}

/// What his verdict at the end of the choice's line says he expects.
fn forecast(attempt: &Attempt) -> Option<f64> {
    let tree = attempt.tree();
    let verdict = tree.node(attempt.end_of_choice()?)?.verdict?;
    value_of_verdict(verdict, tree.root().player()).map(|e| e.value())
}

fn source(origin: &Origin) -> Source {
    match origin {
        Origin::Notes(_) => Source::Notes,
        Origin::Playout { .. } => Source::PlayOut,
        Origin::Drill(_) | Origin::Position => Source::Sitting,
    }
}

/// The findings of an attempt that a coach has struck. The one place that knows how they are kept.
fn struck(attempt: &Attempt) -> Vec<Struck> {
    let overruled = attempt.coached().map_or(&[][..], |c| c.overruled());
    let named = overruled.iter().filter_map(|o| {
        Some(Struck {
            path: o.finding.path.clone(),
            // A ruling on a whole place names no move: its findings have their class from the review.
            resource: o.finding.resource.clone()?,
        })
    });
    named.collect()
}

/// The causes he gave, each with the kind of the finding; the last one for a finding counts.
fn explained(attempt: &Attempt) -> Vec<(String, String)> {
    let mut last = BTreeMap::new();
    for event in attempt.log() {
        if let What::Explained { spot, cause, .. } = &event.what {
            last.insert(spot, (cause.clone(), spot.kind.clone()));
        }
    }
    last.into_values().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn own_games_carry_their_date() {
        let day = |id| game_ms(id).map(|ms| ms / progress::schedule::DAY_MS);
        // 2026-02-14 is day 20498 since 1970-01-01.
        assert_eq!(day("own-20260214-3f9a1c-17w"), Some(20_498));
        assert_eq!(day("own-00000000-3f9a1c-17w"), None);
        assert_eq!(day("own-2026"), None);
        assert_eq!(day("saavedra-1895"), None);
    }
}
